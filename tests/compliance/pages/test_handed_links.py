"""Whoever asked fetches their bundle by a link, with a code that works once; the page gives nothing away."""

import io
from datetime import timedelta
from hashlib import sha256
from zipfile import ZipFile

import pytest
from django.test import Client
from django.urls import reverse
from django.utils.translation import override

from compliance.models import HandedLink, Handing, RequestAnswer
from compliance.pages.link_form import LinkForm
from compliance.request_bundle.folder import file_of, folder_of, make_folder
from compliance.request_bundle.letting_go import let_go
from records.models import AuditEntry
from shared import clock
from tests.compliance.pages.test_handings import made, where
from tests.compliance.pages.test_requests import ASKED, NOW, manager, page_of, taken  # noqa: F401 - a fixture
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.auditing.entries import newest

FILE = b"PK\5\6" + bytes(18)
"""A zip with nothing in it."""


@pytest.fixture
def handing(manager, colleague, firm):  # noqa: F811
    asked = taken(manager)
    row = Handing.objects.create(
        firm=firm, request=asked, by=colleague.user, to=asked.name, how="by a link", treatments=[],
        state="ready", size=len(FILE), digest=f"sha256:{sha256(FILE).hexdigest()}",
    )  # fmt: skip
    make_folder(folder_of(row))
    file_of(row).write_bytes(FILE)
    return row


def link_page(manager, handing, **given):  # noqa: F811
    where = {"asked": handing.request_id, "handing": handing.pk}
    return manager.post(reverse("handing_link", kwargs=where), given or {"days": "3"})


@pytest.fixture
def link(manager, handing) -> tuple[str, str]:  # noqa: F811
    """The address, as whoever asked gets it, and the code."""
    page = link_page(manager, handing)
    return page.context["where"].removeprefix("http://testserver"), page.context["code"]


def fetch(where: str, code: str):
    answer = Client().post(where, {"code": code})
    answer.file = answer.getvalue() if answer.streaming else b""
    return answer


def test_the_file_is_fetched_with_the_code_and_kept_as_handed_over(link, handing, manager, firm):  # noqa: F811
    address, code = link
    answer = fetch(address, code)
    assert answer.file == FILE
    assert answer.cookies == {}
    kept = RequestAnswer.objects.for_firm(firm).get()
    assert (kept.handing, kept.digest, kept.to) == (handing, handing.digest, ASKED["name"])
    sent = newest(firm, thing="compliance.requestanswer")
    assert (sent.kind, sent.by) == ("sent", None)
    page = manager.get(where(handing)).content.decode()
    assert "Handed over: fetched Sept. 16, 2026, 10:00 by the link." in page


def test_the_request_says_when_it_was_fetched_by_the_link_also_where_it_was_taken_out(link, handing, manager):  # noqa: F811
    manager.post(where(handing), {"take": "yes"}).getvalue()
    assert "Fetched by the link" not in page_of(manager, handing.request).content.decode()
    with clock.at(NOW + timedelta(minutes=1)):
        fetch(*link)
    page = page_of(manager, handing.request).content.decode()
    assert "Fetched by the link Sept. 16, 2026, 10:01" in page


def test_how_long_a_link_works_is_said_in_the_language_of_the_page():
    with override("es"):
        assert "3 días" in str(LinkForm()["days"])


def test_it_is_the_very_bundle_that_the_worker_made(manager, signed):  # noqa: F811
    page = link_page(manager, made(manager))
    answer = fetch(page.context["where"], page.context["code"])
    assert f"records/{signed.number}-v1.json" in ZipFile(io.BytesIO(answer.file)).namelist()


def test_address_and_code_are_kept_nowhere(link, handing):
    address, code = link
    token, digits = address.strip("/").rpartition("/")[2], code.replace(" ", "")
    row = HandedLink.across_firms.values().get(handing=handing)
    entries = [str(each) for each in AuditEntry.across_firms.values()]
    for secret in (token, digits):
        assert secret not in str(row)
        assert not [each for each in entries if secret in each]
    assert len(token) == 32
    assert len(digits) == 8


def test_to_look_gives_nothing_out_and_says_nothing_of_anybody(link, handing, firm):
    page = Client().get(link[0])
    said = page.content.decode()
    for name in (firm.name, ASKED["name"], ASKED["asked_for"], handing.by.name):
        assert name not in said
    assert page.cookies == {}
    assert page["Cache-Control"] == "private, no-store"
    assert "noindex" in page["X-Robots-Tag"]
    assert page["Referrer-Policy"] == "no-referrer"
    assert not RequestAnswer.across_firms.exists()


def test_a_code_works_again_for_a_download_that_broke_off_and_then_no_more(link, handing):
    assert fetch(*link).status_code == 200
    with clock.at(NOW + HandedLink.GRACE):
        assert fetch(*link).status_code == 200
    with clock.at(NOW + HandedLink.GRACE + timedelta(seconds=1)):
        assert fetch(*link).status_code == 410
    assert RequestAnswer.across_firms.count() == 1


def test_the_page_says_when_the_file_was_fetched_and_how_long_the_code_still_works(link):
    before = Client().get(link[0]).content.decode()
    assert "was fetched" not in before
    assert fetch(*link).status_code == 200
    page = Client().get(link[0]).content.decode()
    assert "The file was fetched on Sept. 16, 2026, 17:00 UTC." in page
    assert "Sept. 16, 2026, 17:10 UTC" in page
    with clock.at(NOW + timedelta(hours=1)):
        over = Client().get(link[0]).content.decode()
    assert "The file was fetched on Sept. 16, 2026, 17:00 UTC." in over


def test_after_so_many_wrong_codes_the_right_one_opens_nothing(link, firm):
    address, code = link
    wrong = f"{(int(code.replace(' ', '')) + 1) % 10**8:08}"
    said = [fetch(address, wrong) for _ in range(HandedLink.MOST_TRIES)]
    assert [each.status_code for each in said] == [422] * (HandedLink.MOST_TRIES - 1) + [410]
    assert "4 more tries" in said[0].content.decode()
    assert fetch(address, code).status_code == 410
    assert newest(firm, thing="compliance.handedlink").kind == "refused"
    assert not RequestAnswer.across_firms.exists()


def test_a_right_code_forgives_the_wrong_ones_before_it(link):
    address, code = link
    assert fetch(address, "0").status_code == 422
    assert fetch(address, code.replace(" ", "-")).status_code == 200
    assert HandedLink.across_firms.get().tries == 0


@pytest.mark.parametrize("over", ["time", "ended", "another", "dropped"])
def test_a_link_is_over_with_its_time_its_end_a_newer_one_or_its_file(link, handing, manager, over):  # noqa: F811
    if over == "ended":
        link_page(manager, handing, end="yes")
    elif over == "another":
        link_page(manager, handing)
    elif over == "dropped":
        let_go(handing)
    with clock.at(NOW + timedelta(days=3, seconds=over == "time")):
        assert Client().get(link[0]).status_code == 410
        assert fetch(*link).status_code == 410
    assert not RequestAnswer.across_firms.exists()


def test_an_address_that_nobody_made_is_unknown_and_asking_often_is_bounded(db):
    client = Client()
    for token in ("ab" * 16, "none-at-all"):
        assert client.get(reverse("handed", kwargs={"token": token})).status_code == 404
    last = [client.post(reverse("handed", kwargs={"token": "ab" * 16})).status_code for _ in range(60)][-1]
    assert last == 429


def test_no_link_is_made_for_a_file_that_is_gone_or_by_who_may_not(client, handing, manager, member):  # noqa: F811
    let_go(handing)
    assert link_page(manager, handing).status_code == 302
    client.force_login(member.user)
    assert link_page(client, handing).status_code == 403
    assert not HandedLink.across_firms.exists()


def test_the_page_speaks_the_language_of_its_address(link):
    assert "Registros para usted" in Client().get(f"{link[0]}?language=es").content.decode()
