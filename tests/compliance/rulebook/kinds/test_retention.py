"""Kind retention: until when a record is kept; it never judges."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import finding, pack, rule


def keep(years: str = "7 years", after: str = "treatment.day", **keys: Any) -> dict[str, Any]:
    return rule(kind="retention", stage="after", keep=years, after=after, **keys)


@pytest.mark.parametrize("after", ["treatment.day", "timing.finished_at"])
def test_a_record_is_kept_for_so_many_years(after: str) -> None:
    found = finding(keep(after=after))
    assert (found.outcome, str(found.keep_until)) == ("not_applicable", "2033-09-14")
    assert found.message.say("es") == "Guarde el registro hasta el 2033-09-14."


def test_a_leap_days_record_is_kept_a_day_more_not_less() -> None:
    changes = {"timing": {"started_at": "2028-02-29T09:00:00-08:00"}}
    assert str(finding(keep(), changes=changes).keep_until) == "2035-03-01"
    assert str(finding(keep("4 years"), changes=changes).keep_until) == "2032-02-29"


def test_without_the_day_it_names_what_is_missing_and_does_not_judge() -> None:
    found = finding(keep(), changes={"timing": None})
    assert (found.outcome, found.keep_until) == ("not_applicable", None)
    assert found.about == ("timing.started_at",)
    assert "7 years" in found.message.say("en")


def test_an_unknown_condition_does_not_make_it_judge() -> None:
    found = finding(keep(when={"fact": "customer.phone", "is": "1"}, otherwise={"en": "no", "es": "no"}))
    assert (found.outcome, found.about) == ("not_applicable", ("customer.phone",))


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"keep": "for ever"}, "rule/bad_duration"),
        ({"keep": "0 years"}, "rule/bad_duration"),
        ({"after": "site.use"}, "rule/not_a_moment"),
        ({"judges": "people"}, "rule/wrong_subject"),
    ],
)
def test_a_retention_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack({**keep(), **keys})
    assert caught.value.wording_id == wording
