"""What a pack may say of who is told of an incident, and by when."""

from datetime import datetime
from typing import Any

import pytest

from compliance.pack_reader import registered_packs
from compliance.rulebook.errors import RuleError
from compliance.rulebook.incident_reports import INCIDENTS, IncidentReport
from records.document.words import WORD_LISTS
from tests.compliance.rulebook.builders import TEXT, WIND, pack, rule

GIVEN = {
    "cite": "Act 2",
    "of": ["spill"],
    "to": TEXT,
    "binds": TEXT,
    "read": "the section",
    "within": "48 hour",
}


def said(**given: Any) -> IncidentReport:
    return pack(rule(**WIND), incidents=[{**GIVEN, **given}]).incidents[0]


def law(place: str, cite: str) -> IncidentReport:
    (found,) = (
        each for pack in registered_packs() if pack.id == place for each in pack.incidents if each.cite == cite
    )
    return found


def test_hours_are_counted_as_they_pass_also_over_a_change_of_clocks() -> None:
    known = datetime.fromisoformat("2026-10-31T22:00:00-04:00")
    assert said().due(known) == datetime.fromisoformat("2026-11-02T21:00:00-05:00")


def test_what_is_due_at_once_is_due_when_it_is_known() -> None:
    known = datetime.fromisoformat("2026-09-14T09:00:00-07:00")
    assert (said(within="at once").due(known), said(within="at once").at_once) == (known, True)
    assert (said().at_once, said(first="at once").at_once) == (False, True)


@pytest.mark.parametrize(
    ("given", "wording"),
    [
        ({"of": ["earthquake"]}, "rule/unknown_word"),
        ({"of": []}, "rule/expected_list"),
        ({"within": "2 day"}, "rule/bad_duration"),
        ({"phone": "1"}, "rule/unknown_key"),
    ],
)
def test_anything_else_is_refused(given: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        said(**given)
    assert caught.value.wording_id == wording


def test_the_kinds_are_those_of_the_document() -> None:
    assert set(INCIDENTS) == set(WORD_LISTS["incident_kind"])


@pytest.mark.parametrize(
    ("place", "cite", "kind", "hours"),
    [
        (
            "us-ma",
            "333 CMR 10.14(4)",
            "exposure",
            48,
        ),  # "no later than forty-eight hours", copy of 6 December 2024
        ("us", "29 CFR 1904.39(a)(1)", "exposure", 8),  # "within eight (8) hours after the death", stored copy
        ("us", "29 CFR 1904.39(a)(2)", "exposure", 24),  # "within twenty-four (24) hours", stored copy
        ("us", "40 CFR 302.6", "spill", 0),  # "immediately notify", as restated by the EPA
        ("us-nj", "N.J.A.C. 7:30-9.8(c), 9.17", "spill", 0),  # "immediate notification", copy of September 2024
        ("us-ca", "Department of Emergency Services, spill release reporting", "spill", 0),
        ("us-wa", "Department of Ecology, if you spill", "spill", 0),
        ("ca-bc", "Spill Reporting Regulation", "spill", 0),
        ("au-nsw", "POEO Act 1997, s 148", "spill", 0),
    ],
)
def test_the_packs_ask_for_reports_as_the_laws_do(place: str, cite: str, kind: str, hours: int) -> None:
    report = law(place, cite)
    known = datetime.fromisoformat("2026-09-14T09:00:00+00:00")
    assert kind in report.kinds
    assert (report.due(known) - known).total_seconds() == hours * 3600


def test_what_was_not_read_in_its_own_words_states_its_doubt() -> None:
    for pack_ in registered_packs():
        for report in pack_.incidents:
            assert report.doubt or not report.read.startswith(("not read", "from memory")), report.cite
