"""Where very many records fit a request, they are shown at once; what is near and wrong comes after them."""

from django.urls import reverse

from compliance.pages import one_request
from tests.compliance.pages.test_requests import manager, page_of, taken  # noqa: F401 - a fixture
from tests.project.test_addresses import signed  # noqa: F401 - a fixture

BEFORE = "Look at these before you answer"
DRAFT = "Not signed: in no file, but somebody may ask why"


def test_of_few_all_stands_on_the_page(manager, signed, draft):  # noqa: F811
    page = page_of(manager, taken(manager)).content.decode()
    assert BEFORE in page and DRAFT in page
    assert "hx-get" not in page


def test_of_many_the_records_come_first_and_the_rest_by_an_address_of_its_own(
    manager, signed, draft, monkeypatch  # noqa: F811
):
    asked = taken(manager)
    whole = page_of(manager, asked).content.decode()
    monkeypatch.setattr(one_request, "MANY", 0)
    first = page_of(manager, asked).content.decode()
    after = reverse("before_answering", kwargs={"asked": asked.pk})
    assert signed.number in first and DRAFT not in first
    assert f'hx-get="{after}"' in first and "vendor/htmx" in first
    rest = manager.get(after).content.decode().strip()
    assert DRAFT in rest and rest in whole
    assert page_of(manager, asked).content.decode() != whole
    unscripted = manager.get(reverse("request", kwargs={"asked": asked.pk}), {"whole": "yes"})
    assert rest in unscripted.content.decode()
