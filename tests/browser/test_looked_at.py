"""What was signed on a phone and is marked is looked at and ticked off on Today."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from records.models import LookedAt
from tests.browser.conftest import DESK, PHONE
from tests.browser.test_every_page import misfits, violations
from tests.records.services.test_looking import marked  # noqa: F401

pytestmark = pytest.mark.browser


@pytest.mark.parametrize(
    ("width", "language", "button"),
    [(PHONE, "en", "I have looked at it"), (DESK, "es", "Ya lo he revisado")],
)
def test_a_mark_is_ticked_off_and_says_by_whom(open_page, colleague, marked, width, language, button):  # noqa: F811
    page = open_page(colleague, width=width, language=language)
    page.goto("/")
    tick = page.get_by_role("button", name=button)
    expect(tick).to_be_visible()
    assert violations(page) + misfits(page, language) == []
    tick.click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(tick).to_have_count(0)
    assert LookedAt.objects.for_firm(marked.firm).get().by == colleague.user
    page.goto(reverse("treatment", kwargs={"uuid": marked.treatment_id}))
    expect(page.get_by_text(colleague.user.name).first).to_be_visible()
    assert violations(page) + misfits(page, language) == []
