"""In a real browser the phone tells, from the sheet alone, exactly what the shared table and the server say."""

import json
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page

from compliance.pages.phone_sheet import JUDGE
from records.document.days import treatment_day
from records.document.reader import read
from shared.wording import LANGUAGES
from tests.browser.made_documents import made_cases
from tests.compliance.phone import cases, in_order, marks

pytestmark = pytest.mark.browser

CASES = cases()
JUDGES = "cases => cases.map(([sheet, typed, language]) => limitsAndMusts.judge(sheet, typed, language))"


@pytest.fixture(scope="module")
def phone(chromium: Browser) -> Page:
    """A page with the judge in it, and nothing else."""
    page = chromium.new_page()
    for script in JUDGE:
        page.add_script_tag(path=Path(finders.find(script)))
    return page


def judged(phone: Page, several: list, language: str) -> list:
    """What the phone tells of each case; nothing but plain data goes in and comes out."""
    plain = json.loads(json.dumps([[case.sheet(), case.typed, language] for case in several]))
    return [in_order(told) for told in phone.evaluate(JUDGES, plain)]


def test_the_phone_tells_what_the_table_expects_and_nothing_else(phone):
    told = judged(phone, CASES, "en")
    assert {case.name: marks(each) for case, each in zip(CASES, told, strict=True)} == {
        case.name: case.expected for case in CASES
    }


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.long
def test_the_phone_says_it_in_the_words_of_the_server(phone, language):
    alike = [case for case in CASES if case.expected and not case.left]
    told = judged(phone, alike, language)
    assert len(alike) > 30
    for case, each in zip(alike, told, strict=True):
        said = [{name: one[name] for name in ("rule", "about", "path", "state", "words")} for one in each]
        assert said == case.told_by_server(language), case.name


@settings(
    max_examples=6, derandomize=True, database=None, deadline=None,
    phases=[Phase.generate], suppress_health_check=list(HealthCheck),
)  # fmt: skip
@given(several=st.lists(made_cases(), min_size=20, max_size=25))
@pytest.mark.long
def test_property_phone_and_server_agree_on_the_rules_of_the_sheet(phone, several):
    told = judged(phone, several, "es")
    for case, each in zip(several, told, strict=True):
        said = [{name: one[name] for name in ("rule", "about", "path", "state", "words")} for one in each]
        if treatment_day(read(case.typed)) == treatment_day(read(case.known)):
            assert said == case.told_by_server("es"), json.dumps(case.typed)
        else:
            assert of_labels(said) == of_labels(case.told_by_server("es")), json.dumps(case.typed)


def of_labels(told: list) -> list:
    """Those that are the same on every day."""
    return [one for one in told if one["rule"].startswith("label/")]


@pytest.mark.long
def test_the_phone_says_by_which_days_rules_it_judges_and_whose_label_it_does_not_know(phone):
    plain = json.loads(json.dumps([[case.sheet(), case.typed] for case in CASES]))
    nothing = {"nothing": False, "otherDay": False, "labels": []}
    said = phone.evaluate("cases => cases.map(([sheet, typed]) => limitsAndMusts.untold(sheet, typed))", plain)
    assert {case.name: each for case, each in zip(CASES, said, strict=True)} == {
        case.name: nothing | {"day": case.sheet()["day"]} | case.untold for case in CASES
    }


def test_a_sheet_of_another_version_tells_nothing_and_says_so(phone):
    sheet = json.loads(json.dumps(CASES[0].sheet() | {"schema": "phone-sheet/1"}))
    told, untold = phone.evaluate(
        """([sheet, typed]) =>
        [limitsAndMusts.judge(sheet, typed, "en"), limitsAndMusts.untold(sheet, typed)]""",
        [sheet, CASES[0].typed],
    )
    assert told == [] and untold["nothing"]
