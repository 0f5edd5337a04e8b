"""Two versions of a record stand side by side at a desk and one under the other on a phone."""

import pytest

from tests.browser.conftest import DESK, PHONE
from tests.browser.test_every_page import misfits, violations
from tests.compliance.pages.test_versions import versions  # noqa: F401 - a fixture

pytestmark = pytest.mark.browser


@pytest.mark.parametrize(
    ("width", "language", "beside"),
    [(PHONE, "es", False), pytest.param(DESK, "en", True, marks=pytest.mark.long)],
)
@pytest.mark.long
def test_two_versions_can_be_read_at_any_width(open_page, colleague, versions, width, language, beside):  # noqa: F811
    page = open_page(colleague, width=width, language=language)
    page.goto(f"/treatments/{versions.pk}/versions/3/changes/?since=1")
    first, second = (one.bounding_box() for one in page.locator(".changes .beside > div").all()[:2])
    assert (first["y"] == second["y"]) is beside
    assert (first["x"] == second["x"]) is not beside
    for details in page.locator("details").all():
        details.locator("summary").first.click()
    assert violations(page) + misfits(page, language) == []
