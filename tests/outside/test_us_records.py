"""What federal law asks of the record of a restricted-use application, element by element.

Sources: the list of 40 CFR 171.303(b)(7)(vi) as restated by a trade association's compliance page and by
the agency's own page on its plan for Indian country (the number (vi) is from memory); 7 CFR 110.3(a)(1)
to (5) in the Code of Federal Regulations revised as of 1 January 2006; its rescission, 90 FR 20083 (12
May 2025), effective 11 July 2025, as quoted by secondary pages; 7 U.S.C. 136i-1(a), current through P.L.
118-106.
"""

from datetime import date, datetime, timedelta

import pytest

from tests.compliance.checked import findings_by_rule
from tests.compliance.patched import load, patched

DOCUMENT = load("facts/restricted-use-roof.json")
CONTEXT = load("facts/restricted-use-roof.context.json")
PRODUCT = "mixes[0].products[0]"

# (element, the members that state it, the rule that must miss it)
LIST_171_303 = [
    ("name of the person for whom applied", ["customer.name"], "customer"),
    ("address of the person for whom applied", ["customer.address"], "customer"),
    ("location of the application", ["site.address", "site.position"], "location"),
    ("size of the area treated", ["surfaces[0].treated_area"], "area"),
    ("crop, commodity, stored product or site", ["surfaces[0].kind"], "site"),
    ("time and date of the application", ["timing.started_at"], "time"),
    ("brand or product name", [f"{PRODUCT}.name"], "product-name"),
    ("EPA registration number", [f"{PRODUCT}.registration_number"], "registration-number"),
    ("total amount per location per application", [f"{PRODUCT}.amount"], "total-amount"),
    (
        "certification number of the certified applicator",
        ["people[0].licences[0].number"],
        "certified-applicator",
    ),
    ("name of any noncertified applicator", ["people[1].name"], "noncertified-applicator"),
]

# (paragraph, element, the members that state it, the rule that must miss it)
LIST_110_3 = [
    ("7 CFR 110.3(a)(1)", "brand or product name", [f"{PRODUCT}.name"], "product"),
    ("7 CFR 110.3(a)(1)", "EPA registration number", [f"{PRODUCT}.registration_number"], "product"),
    ("7 CFR 110.3(a)(2)", "total amount", [f"{PRODUCT}.amount"], "amount"),
    ("7 CFR 110.3(a)(3)", "location", ["site.address", "site.position"], "place"),
    ("7 CFR 110.3(a)(3)", "size of the area", ["surfaces[0].treated_area"], "place"),
    ("7 CFR 110.3(a)(3)", "crop, commodity, stored product or site", ["surfaces[0].kind"], "place"),
    ("7 CFR 110.3(a)(4)", "month, day and year", ["timing.started_at"], "date"),
    ("7 CFR 110.3(a)(5)", "certification number", ["people[0].licences[0].number"], "certified-applicator"),
]
LAST_DAY_OF_PART_110 = date(2025, 7, 10)


def on_day(day):
    """The treatment and its context as they would be on another day."""
    moved = day - date(2026, 9, 14)
    return _moved(DOCUMENT, moved), _moved(CONTEXT, moved)


def _moved(value, days: timedelta):
    if isinstance(value, dict):
        return {key: _moved(part, days) for key, part in value.items()}
    if isinstance(value, list):
        return [_moved(part, days) for part in value]
    if not isinstance(value, str) or not value.startswith("2026-") or len(value) not in (10, 25):
        return value
    return (datetime.fromisoformat(value) + days).isoformat()[: len(value)]


@pytest.mark.parametrize(("element", "members", "rule"), LIST_171_303, ids=[row[0] for row in LIST_171_303])
def test_each_element_of_the_federal_list_is_advised_for_restricted_use(element, members, rule):
    findings = findings_by_rule(patched(DOCUMENT, dict.fromkeys(members)), CONTEXT)[f"us/record/{rule}"]
    [missed] = [finding for finding in findings if finding["outcome"] == "not_met"]
    assert (missed["level"], missed["cite"]) == ("advised", "40 CFR 171.303(b)(7)(vi)")
    assert missed["about"][0].startswith(members[0])


def test_a_restricted_use_record_that_states_every_element_misses_none():
    findings = findings_by_rule(DOCUMENT, CONTEXT)
    for rule in {row[2] for row in LIST_171_303}:
        assert "met" in {finding["outcome"] for finding in findings[f"us/record/{rule}"]}
        assert "not_met" not in {finding["outcome"] for finding in findings[f"us/record/{rule}"]}


@pytest.mark.parametrize(
    ("paragraph", "element", "members", "rule"), LIST_110_3, ids=[row[1] for row in LIST_110_3]
)
def test_each_element_of_part_110_is_required_until_11_july_2025(paragraph, element, members, rule):
    document, context = on_day(LAST_DAY_OF_PART_110)
    damaged = patched(document, dict.fromkeys(members))
    findings = findings_by_rule(damaged, context)[f"us/part-110/{rule}"]
    [missed] = [finding for finding in findings if finding["outcome"] == "not_met"]
    assert (missed["level"], missed["cite"]) == ("required", paragraph)
    assert missed["about"][0].startswith(members[0])


def test_part_110_decides_the_day_before_its_rescission_and_not_the_day_itself():
    """90 FR 20083: effective 11 July 2025."""
    before = findings_by_rule(*on_day(LAST_DAY_OF_PART_110))
    after = findings_by_rule(*on_day(LAST_DAY_OF_PART_110 + timedelta(days=1)))
    assert {rule for rule in before if rule.startswith("us/part-110/")}
    assert not {rule for rule in after if rule.startswith("us/part-110/")}


def test_the_customers_copy_of_a_restricted_use_record_is_due_in_30_days():
    """7 U.S.C. 136i-1(a)(2): within 30 days of a pesticide application."""
    [finding] = findings_by_rule(DOCUMENT, CONTEXT)["us/restricted-use/customer-copy"]
    assert (finding["outcome"], finding["level"]) == ("not_applicable", "advised")
    assert finding["due"].startswith("2026-10-14")


def test_a_person_without_licence_or_supervisor_may_not_apply_a_restricted_use_product():
    """40 CFR 171.1(b); 7 U.S.C. 136(e)(4)."""
    alone = patched(DOCUMENT, {"people[1].supervised_by": None, "people[1].supervision": None})
    findings = findings_by_rule(alone, CONTEXT)["us/restricted-use/certified"]
    assert {finding["outcome"] for finding in findings} == {"met", "not_met"}
