"""Kind `report`: it never judges; it carries the day on which the report is due."""

from typing import Any

import pytest

from compliance.rulebook.errors import RuleError
from tests.compliance.rulebook.builders import check, finding, pack, rule

TO = {"en": "the county office", "es": "la oficina del condado"}


def report(**keys: Any) -> dict[str, Any]:
    base = {"id": "xx/report", "kind": "report", "stage": "after", "period": "month", "due": "10", "to": TO}
    return rule(**{**base, **keys})


def on_day(day: str) -> dict[str, Any]:
    return {"timing": {"started_at": f"{day}T09:00:00-08:00"}}


@pytest.mark.parametrize(
    ("day", "keys", "due"),
    [
        ("2026-09-14", {}, "2026-10-10T23:59:59-07:00"),
        ("2026-12-31", {}, "2027-01-10T23:59:59-08:00"),
        ("2026-01-31", {"due": "31"}, "2026-02-28T23:59:59-08:00"),
        ("2026-09-14", {"period": "year", "due": "01-31"}, "2027-01-31T23:59:59-08:00"),
        ("2026-01-01", {"period": "year", "due": "02-01"}, "2027-02-01T23:59:59-08:00"),
        ("2026-01-01", {"period": "year", "due": "02-29"}, "2027-02-28T23:59:59-08:00"),
    ],
)
def test_a_report_is_due_in_the_period_that_follows(day: str, keys: dict[str, Any], due: str) -> None:
    found = finding(report(**keys), changes=on_day(day))
    assert (found.outcome, found.as_json("en")["due"]) == ("not_applicable", due)


def test_a_report_says_period_recipient_and_day() -> None:
    found = finding(report(nil="yes"))
    assert found.message.say("en") == (
        "The report for 2026-09 to the county office is due 2026-10-10. A period without work needs a report, "
        "too."
    )
    assert found.message.say("es").startswith("El informe de 2026-09 para la oficina del condado vence")
    yearly = finding(report(period="year", due="01-31"))
    assert "The report for 2026 to" in yearly.message.say("en")


def test_without_a_day_the_period_is_not_known_and_nothing_is_judged() -> None:
    checked = check(report(), changes={"timing": None})
    (found,) = [one for one in checked.findings if one.pack == "xx"]
    assert (found.outcome, found.due, found.about) == ("not_applicable", None, ("timing.started_at",))


def test_a_report_judges_nothing() -> None:
    assert pack(report()).rules[0].possible() == {"not_applicable"}


def test_what_a_report_states_is_kept_for_the_report() -> None:
    (one,) = pack(report(fields=[{"en": "month", "es": "mes"}])).rules
    (duty,) = one.all_duties
    assert [words.es for words in duty.kind.fields] == ["mes"]  # type: ignore[attr-defined]


def test_a_report_says_how_its_figures_are_worked_out() -> None:
    form = {"by": ["site", "product"], "units": ["kg"], "litre": "1000 g", "per": "county"}
    kinds = {"kinds": ["pesticide", "adjuvant"], "uses": ["school"], "applications": "yes"}
    (one,) = pack(report(form={**form, **kinds})).rules
    (duty,) = one.all_duties
    read = duty.kind.form  # type: ignore[attr-defined]
    assert (read.by, read.units, read.litre, read.per_county) == (("site", "product"), ("kg",), 1, True)
    assert (read.kinds, read.uses, read.applications) == (("pesticide", "adjuvant"), ("school",), True)
    (by_density,) = pack(report(form={**form, "litre": "density"})).rules
    assert by_density.all_duties[0].kind.form.litre is None  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("keys", "wording"),
    [
        ({"period": "week"}, "rule/unknown_word"),
        ({"due": "01-31"}, "rule/not_a_count"),
        ({"due": "32"}, "rule/bad_duration"),
        ({"period": "year"}, "rule/not_a_month_day"),
        ({"to": None}, "rule/missing_key"),
        ({"judges": "products"}, "rule/wrong_subject"),
        ({"unless": {"question": "xx/question/none", "is": "yes"}}, "rule/unknown_word"),
        ({"form": {"by": ["product"]}}, "rule/missing_key"),
        ({"form": {"by": ["customer"], "units": ["gal"]}}, "rule/unknown_word"),
        ({"form": {"by": ["product"], "units": ["gal", "L"]}}, "rule/unknown_word"),
        ({"form": {"by": ["product"], "units": ["ft**2"]}}, "rule/unknown_word"),
        ({"form": {"by": ["product"], "units": ["kg"], "litre": "1 gal"}}, "rule/quantity"),
        ({"form": {"by": ["product"], "units": ["kg"], "per": "state"}}, "rule/unknown_word"),
        ({"form": {"by": ["product"], "units": ["kg"], "sum": "yes"}}, "rule/unknown_key"),
    ],
)
def test_a_report_outside_the_form_is_refused(keys: dict[str, Any], wording: str) -> None:
    with pytest.raises(RuleError) as caught:
        pack(report(**keys))
    assert caught.value.wording_id == wording
