"""What Washington asks of an application record, element by element.

Sources: RCW 17.21.100(1)(a) to (i), (2)(a) and (3), read in full in a stored copy of 2021 (last amended
by 2011 c 103 § 37); the department's record form AGR 4226 (Rev. 5/03) as printed in chapter 16-228 WAC in
2003, items 3 to 14 read there, items 1 and 2 in a form collection (the address lines of item 2 are from
memory). WAC 16-228-1320 itself was not read.
"""

import pytest

from tests.compliance.checked import check, findings_by_rule
from tests.compliance.patched import load, patched

PRODUCT = "mixes[0].products[0]"

# (paragraph, what the statute asks for, the members that state it, the rule that must miss it)
STATUTE = [
    ("RCW 17.21.100(1)(a)", "location of the land", ["site.address", "site.position"], "location"),
    ("RCW 17.21.100(1)(b)", "year, month, day and beginning time", ["timing.started_at"], "time"),
    ("RCW 17.21.100(1)(b)", "ending time", ["timing.finished_at"], "time"),
    ("RCW 17.21.100(1)(c)", "product name used on the registered label", [f"{PRODUCT}.name"], "product-name"),
    (
        "RCW 17.21.100(1)(c)",
        "EPA registration number",
        [f"{PRODUCT}.registration_number"],
        "registration-number",
    ),
    ("RCW 17.21.100(1)(d)", "crop or site", ["surfaces[0].kind"], "site"),
    ("RCW 17.21.100(1)(e)", "amount per acre or other measure", [f"{PRODUCT}.amount"], "rate"),
    ("RCW 17.21.100(1)(f)", "concentration applied", ["mixes[0].diluent.amount"], "concentration"),
    ("RCW 17.21.100(1)(g)", "acres or other measure treated", ["surfaces[0].treated_area"], "area"),
    ("RCW 17.21.100(1)(h)", "licensed applicator's name", ["firm.licences[0].holder"], "licensed-applicator"),
    ("RCW 17.21.100(1)(h)", "licensed applicator's address", ["firm.address"], "licensed-applicator"),
    ("RCW 17.21.100(1)(h)", "licensed applicator's telephone number", ["firm.phone"], "licensed-applicator"),
    ("RCW 17.21.100(1)(h)", "name of the individual making the application", ["people[0].name"], "appliers"),
    ("RCW 17.21.100(1)(h)", "their licence number", ["people[0].licences[0].number"], "applier-licence"),
    ("RCW 17.21.100(1)(i)", "direction of the wind", ["weather.readings[0].wind_from"], "wind"),
    ("RCW 17.21.100(1)(i)", "estimated velocity of the wind", ["weather.readings[0].wind_speed"], "wind"),
]

# (item of the form, the field, the members that state it, the rule that must miss it)
FORM = [
    ("item 2", "name of person for whom applied", ["customer.name"], "customer-name"),
    ("item 2", "that person's address (from memory)", ["customer.address"], "customer-address"),
    ("item 3", "firm name", ["firm.name"], "firm"),
    ("item 3", "licence number", ["firm.licences[0].number"], "firm"),
    ("item 7", "permit number", ["permits[0].number"], "permit"),
    ("item 8", "adjuvants, product name", ["mixes[0].products[1].name"], "adjuvant"),
    ("item 8c", "total amount of pesticide", [f"{PRODUCT}.amount"], "total-amount"),
    ("item 11", "temperature", ["weather.readings[0].temperature"], "temperature"),
    ("item 12", "apparatus license plate number", ["equipment[0].identification"], "apparatus-plate"),
    ("item 13", "air, ground or chemigation", ["equipment[0].method"], "method"),
]

EXAMPLE = load("documents/example.json")
CONTEXT = load("documents/example-context.json")
ADJUVANT = {"name": "Sample Spreader", "kind": "adjuvant", "regime": "other", "restricted_use": False}
FULL_FORM = patched(
    EXAMPLE,
    {
        "permits": [{"authority": "us-wa", "number": "P-7"}],
        "mixes[0].products[1]": {**ADJUVANT, "amount": {"value": "3", "unit": "fl_oz"}},
    },
)


def without(document, members):
    """The document without some members. Names that others refer to go with the reference."""
    changes = dict.fromkeys(members)
    if "people[0].name" in members:
        changes |= {"weather.readings[0].by": None, "protection[0].by": None, "protection[1].by": None}
    return patched(document, changes)


@pytest.mark.parametrize(
    ("paragraph", "element", "members", "rule"), STATUTE, ids=[row[1] for row in STATUTE]
)
def test_each_element_of_the_statute_is_asked_for_under_its_paragraph(paragraph, element, members, rule):
    assert outcomes(EXAMPLE, rule) == ["met"]
    [finding] = findings_by_rule(without(EXAMPLE, members), CONTEXT)[f"us-wa/record/{rule}"]
    assert (finding["outcome"], finding["level"], finding["cite"]) == ("not_met", "required", paragraph)
    assert finding["about"][0].startswith(members[0])


@pytest.mark.parametrize(("item", "field", "members", "rule"), FORM, ids=[row[1] for row in FORM])
def test_each_field_that_the_official_form_adds_is_asked_for_under_its_item(item, field, members, rule):
    assert "not_met" not in outcomes(FULL_FORM, rule)
    findings = findings_by_rule(without(FULL_FORM, members), CONTEXT)[f"us-wa/record/{rule}"]
    missed = [finding for finding in findings if finding["outcome"] == "not_met"]
    assert [finding["about"][0].startswith(members[0]) for finding in missed] == [True]
    assert missed[0]["level"] == "required"
    assert "WAC 16-228-1320" in missed[0]["cite"]
    assert item.rstrip("c") in missed[0]["cite"]


def test_work_within_a_structure_is_asked_for_no_wind():
    """RCW 17.21.100(1)(i): not for baits in bait stations and applications within structures."""
    indoors = patched(EXAMPLE, {"site.indoors": True, "weather.readings": []})
    assert outcomes(indoors, "wind") == ["not_applicable"]


def test_information_recorded_on_the_next_day_is_late():
    """RCW 17.21.100(2)(a): recorded on the same day that a pesticide is applied."""
    late = patched(EXAMPLE, {"timing.recorded_at": "2026-09-15T08:00:00-07:00"})
    [finding] = findings_by_rule(late, CONTEXT)["us-wa/deadline/same-day"]
    assert (finding["outcome"], finding["cite"]) == ("not_met", "RCW 17.21.100(2)(a)")


def test_records_are_kept_for_seven_years_from_the_application():
    """RCW 17.21.100(3): no less than seven years from the date of the application."""
    [finding] = findings_by_rule(EXAMPLE, CONTEXT)["us-wa/retention/seven-years"]
    assert finding["keep_until"] == "2033-09-14"


def test_a_record_that_states_every_element_is_met_as_a_whole():
    assert check(EXAMPLE, CONTEXT)["outcome"] == "met"


def outcomes(document, rule):
    return [finding["outcome"] for finding in findings_by_rule(document, CONTEXT)[f"us-wa/record/{rule}"]]
