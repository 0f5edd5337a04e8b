"""One step that is ticked on two phones, of which one has no signal: both have said so, and when."""

import pytest
from playwright.sync_api import Page, expect

from records.models import Treatment
from tests.browser.line import Line
from tests.browser.phone import keep_all
from tests.browser.test_no_signal import PATIENCE_MS, section, sent
from tests.records.pages.test_offered_and_undone import write

pytestmark = pytest.mark.browser

STEP = "downspouts diverted"


@pytest.fixture
def crew(today, member, colleague) -> Treatment:
    person = colleague.person
    write(today, member, **{f"people[{person.pk}]": {"id": str(person.pk), "name": person.name}})
    return today


@pytest.fixture
def two(open_page, crew, member, colleague, line) -> tuple[Page, Page]:
    """One without a signal, one with."""
    away = open_page(member, keeps=True, address=line.address)
    keep_all(away)
    line.cut()
    return away, open_page(colleague)


def tick(page: Page, treatment: Treatment, said: str) -> None:
    page.goto(section(treatment, "protect"))
    page.get_by_role("checkbox", name=STEP).check()
    expect(page.locator("#save-state")).to_contain_text(said)


def names(treatment: Treatment) -> set[str]:
    return {step["by"] for step in sent(treatment).get("protection") or []}


def come_back(page: Page, line: Line) -> None:
    line.mend()
    page.reload()
    expect(page.locator("#save-state")).to_have_text("Saved.", timeout=PATIENCE_MS)


def test_a_step_ticked_on_two_phones_stands_twice_and_each_takes_back_their_own(
    two, crew, member, colleague, line
):
    away, near = two
    tick(away, crew, "Not saved yet")
    tick(near, crew, "Saved.")
    come_back(away, line)
    assert names(crew) == {member.person.name, colleague.person.name}
    expect(away.locator(".tick p")).to_contain_text(member.person.name)
    near.reload()
    expect(near.locator(".tick p")).to_contain_text(colleague.person.name)
    near.get_by_role("checkbox", name=STEP).uncheck()
    expect(near.locator("#rows-told")).to_contain_text(f"{STEP} is still ticked, by {member.person.name}")
    expect(near.get_by_role("checkbox", name=STEP)).to_be_checked()
    assert names(crew) == {member.person.name}
