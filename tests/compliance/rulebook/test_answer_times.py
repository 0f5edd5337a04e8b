"""What a pack may say of the time to answer a request for records."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import TEXT, WIND, pack, rule


def said(**answered: Any) -> Any:
    reminders = [{"cite": "Act 2", "says": TEXT, "answered": [answered]}]
    return pack(rule(**WIND), reminders=reminders).reminders[0].answered[0]


def test_a_first_word_at_once_leaves_the_copy_its_hours() -> None:
    time = said(by=["medical"], first="at once", within="24 hour")
    assert (time.by, time.at_once, time.within.say("en")) == (("medical",), True, "24 h")


def test_what_is_due_at_once_has_no_hours() -> None:
    time = said(by=["regulator", "medical"], within="at once")
    assert (time.at_once, time.within) == (True, None)


def test_days_may_be_business_days_of_a_calendar() -> None:
    time = said(by=["court"], within="3 business day", holidays="us")
    assert (time.within.days, time.within.calendar) == (3, "us")


@pytest.mark.parametrize(
    ("given", "wording"),
    [
        ({"by": ["aunt"], "within": "at once"}, "rule/unknown_word"),
        ({"by": [], "within": "at once"}, "rule/expected_list"),
        ({"by": ["court"]}, "rule/missing_key"),
        ({"by": ["court"], "within": "soon"}, "rule/quantity"),
        ({"by": ["court"], "within": "3 business day"}, "rule/missing_key"),
        ({"by": ["court"], "within": "3 business day", "holidays": "moon"}, "rule/unknown_word"),
        ({"by": ["court"], "within": "5000 day"}, "rule/bad_duration"),
        ({"by": ["court"], "within": "at once", "until": "noon"}, "rule/unknown_key"),
    ],
)
def test_anything_else_is_refused(given: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        said(**given)
    assert caught.value.wording_id == wording
