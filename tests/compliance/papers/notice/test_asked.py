"""One notice for all that several rules ask."""

from compliance.notices.duty import Duty
from compliance.papers.notice import content_of, email, terms_of
from compliance.papers.notice.label_words import BLANK
from tests.compliance.notices.plans import NEAR, duty, plan
from tests.compliance.papers.notice.made import NEIGHBOUR, planned

MONDAY = "2026-09-14T09:00:00-04:00"


def duties() -> list[Duty]:
    treatment = plan("roof-in-new-york", MONDAY, neighbours=[NEAR], county="Suffolk")
    return [duty(treatment, f"us-ny/notice/{name}") for name in ("neighbors", "owner")]


def test_one_notice_says_what_every_rule_asks_each_thing_once() -> None:
    terms = terms_of(duties(), "en")
    text = email(content_of(planned(), NEIGHBOUR, terms))[1]
    english = text.split("* * *")[0]
    assert english.count("EPA registration number: ") == 1
    assert english.count("Products: ") == 1
    assert f"Total cost: {BLANK}" in english
    assert "National Pesticides Telecommunications Network" in english


def test_it_is_in_the_languages_that_a_rule_asks_for_and_else_in_the_readers() -> None:
    neighbours, owner = duties()
    assert terms_of([neighbours, owner], "en").languages == ("en", "es")
    assert terms_of([owner], "es").languages == ("es",)


def test_it_has_room_for_as_many_dates_as_must_be_named() -> None:
    neighbours, owner = duties()
    assert terms_of([neighbours, owner], "en").dates == 2
    assert terms_of([owner], "en").dates == 0
