"""Every figure of a report is the exact sum of what its records say, and what can't be told is said."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from compliance.reports.sums import Json
from compliance.rulebook.report_form import ReportForm
from records.document.amounts import product_applied
from records.document.reader import read
from tests.compliance.reports.documents import GRANULES, SPREADER, WASH, document, mix, reported, table

ROOF = mix((WASH, "1.5 gal"), water="13.5 gal", applied="14 gal")
KILOGRAMS = ReportForm(units=("kg",))


def open_of(report: Json) -> list[tuple[str, str]]:
    return [(each["about"], each["says"]["en"]) for each in report["open"]]


_AMOUNTS = st.integers(1, 999_999).map(lambda thousandths: f"{thousandths / 1000:.3f}")
_LINES = st.tuples(
    _AMOUNTS, st.sampled_from(["gal", "qt", "pt", "fl_oz", "L", "mL"]), _AMOUNTS, _AMOUNTS,
    st.sampled_from(["residence", "business"]), st.sampled_from(["Quill County", "North County"]),
)  # fmt: skip


@settings(max_examples=30)
@given(st.lists(_LINES, max_size=5))
def test_the_lines_of_each_table_add_up_to_the_records_to_the_last_fraction(lines):
    documents = [
        document(
            mix((WASH, f"{amount} {unit}"), water=f"{water} gal", applied=f"{applied} gal"),
            use=use, county=county,
        )
        for amount, unit, water, applied, use, county in lines
    ]  # fmt: skip
    gallon = Fraction("3.785411784")  # litres, exactly (NIST Handbook 44, appendix C)
    amounts = [product_applied(read(each), 0, 0) for each in documents]
    report = reported(documents, ReportForm(by=("site", "day")))
    whole = sum((each.base for each in amounts), Fraction(0)) / gallon
    for each in report["tables"]:
        if each["name"] in ("asked", "product", "county"):
            assert sum((Fraction(line["exact"]) for line in each["lines"]), Fraction(0)) == whole
        for line in each["lines"]:
            assert Fraction(line["exact"]) == sum(Fraction(exact) for _record, exact in line["parts"])
    assert report["applications"] == len(documents)


def test_an_application_counts_once_though_two_mixes_of_it_hold_the_product():
    report = reported([document(ROOF, ROOF)])
    assert table(report, "asked") == [("99999-12", "Sample Moss Wash", "2.8", "gal", 1)]
    assert report["applications"] == 1


def test_one_number_is_one_product_however_it_is_spelled_and_without_one_the_name_tells():
    respelled = {**WASH, "name": "SAMPLE moss wash", "registration_number": "EPA Reg. No. 99999 - 12"}
    nameless = {**WASH, "registration_number": None}
    mixes = [mix((each, "1 gal"), water="9 gal", applied="10 gal") for each in (WASH, respelled, nameless)]
    report = reported([document(each) for each in mixes])
    assert table(report, "asked") == [
        ("", "Sample Moss Wash", "1", "gal", 1),
        ("99999-12", "Sample Moss Wash", "2", "gal", 2),
    ]
    assert ("Sample Moss Wash", "no registration number is stated") in open_of(report)


def test_an_exempt_product_has_no_number_and_none_is_missing():
    exempt = {**WASH, "registration_number": None, "regime": "exempt"}
    report = reported([document(mix((exempt, "1 gal"), water="9 gal", applied="10 gal"))])
    assert table(report, "asked") == [("", "Sample Moss Wash", "1", "gal", 1)]
    assert "no registration number is stated" not in [says for _about, says in open_of(report)]


def test_volumes_and_weights_of_one_product_stand_apart_where_either_may_be_told():
    weighed = {**GRANULES, "registration_number": "99999-12"}
    dry = mix((weighed, "3 lb"), water=None, applied="2 lb", on="walk")
    report = reported([document(ROOF), document(dry)])
    assert [line[2:4] for line in table(report, "asked")] == [("1.4", "gal"), ("2", "lb")]


def test_what_is_neither_pesticide_nor_asked_for_is_none_of_the_report():
    soap = {"name": "Sample Soap", "kind": "other"}
    work = document(
        mix((WASH, "1 gal"), (SPREADER, "6 fl_oz"), (soap, "1 gal"), water="8 gal", applied="5 gal")
    )
    assert [line[1] for line in table(reported([work]), "asked")] == ["Sample Moss Wash"]
    both = reported([work], ReportForm(kinds=("pesticide", "adjuvant")))
    assert [line[1] for line in table(both, "asked")] == ["Sample Spreader", "Sample Moss Wash"]
    assert not open_of(both)


def test_a_product_whose_kind_nobody_stated_is_counted_and_said():
    unknown = {**WASH, "kind": None}
    report = reported([document(mix((unknown, "1 gal"), water="9 gal", applied="10 gal"))])
    assert table(report, "asked") == [("99999-12", "Sample Moss Wash", "1", "gal", 1)]
    assert open_of(report) == [
        ("Sample Moss Wash", "it is not stated whether this is a pesticide; it is counted as one")
    ]


def test_a_day_that_was_stood_down_used_nothing():
    stood_down = document(ROOF)
    stood_down["record"]["result"] = "stood-down"
    report = reported([stood_down])
    assert (report["applications"], report["records"], report["open"]) == (0, [], [])


def test_an_amount_that_nobody_stated_leaves_its_product_in_the_report_without_a_figure():
    unmeasured = document({**ROOF, "applied": None})
    report = reported([unmeasured, document(ROOF)])
    asked = table(report, "asked")
    assert asked == [
        ("99999-12", "Sample Moss Wash", "1.4", "gal", 1),
        ("99999-12", "Sample Moss Wash", None, "", 1),
    ]
    assert report["open"] == [
        {
            "record": 0,
            "about": "Sample Moss Wash",
            "says": {"en": "not stated: Mix applied", "es": "no consta: Mezcla aplicada"},
        }
    ]


def test_without_a_density_kilograms_can_t_be_told_and_no_litre_is_taken_for_one():
    without = {**WASH, "density": None}
    litres = document(mix((without, "2 L"), water="18 L", applied="10 L"))
    report = reported([litres], KILOGRAMS)
    assert table(report, "asked") == [("99999-12", "Sample Moss Wash", None, "", 1)]
    assert {says for _about, says in open_of(report)} == {
        "the label has no density, so that volume and weight can't be turned into each other"
    }


def test_a_percentage_of_nobody_knows_what_gives_no_mass_of_active_ingredient():
    chlorine = {"name": "invented active", "percent": "12.5", "basis": "available chlorine"}
    says = []
    for ingredient in (chlorine, {**chlorine, "basis": None}, {**chlorine, "percent": None}):
        product = {**WASH, "active_ingredients": [ingredient]}
        report = reported([document(mix((product, "1 gal"), water="9 gal", applied="10 gal"))])
        assert [line[1] for line in table(report, "ingredient")] == [None]
        says += [said for _about, said in open_of(report)]
    assert says == [
        "its percentage is of something else than weight or volume",
        "it is not stated whether the percentage is of weight or of volume",
        "the label states no percentage of an active ingredient",
    ]


def test_the_treated_area_of_a_surface_counts_once_and_one_without_a_size_is_said():
    twice = document(ROOF, ROOF, mix((WASH, "1 gal"), water="9 gal", applied="10 gal", on="walk"))
    twice["surfaces"][1]["treated_area"] = None
    report = reported([twice])
    assert table(report, "area") == [
        ("Quill County", "roof", "1000", "ft**2", 1),
        ("Quill County", "walk", None, "", 1),
    ]
    assert ("walk", "the treated area is not stated") in open_of(report)
