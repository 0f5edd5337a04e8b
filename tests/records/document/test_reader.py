import pytest

from records.document.faults import DocumentFaults
from records.document.reader import _fault, read
from records.document.types import TreatmentDocument
from tests.records.document.documents import FOLDER, NAMES, changed, document, faults

MINIMAL = {"schema": "treatment-document/1", "record": {}}

DAMAGED = [
    # what is changed, and the one message
    ({"surfaces[0].treated_area": {"value": "3000", "unit": "gal"}},
     "surfaces[0].treated_area: expected an area, got 3000 gal"),
    ({"surfaces[0].treated_area": {"value": "-3", "unit": "ft**2"}},
     "surfaces[0].treated_area: an area cannot be below 0, got -3 ft²"),
    ({"surfaces[0].plan_area": {"value": "0.0", "unit": "ft**2"}},
     "surfaces[0].plan_area: an area must be above 0, got 0.0 ft²"),
    ({"surfaces[0].treated_area": {"value": "1342", "unit": "ft^2"}},
     "surfaces[0].treated_area: unknown unit ft^2; the units for an area are ft**2, yd**2, acre, m**2, ha"),
    ({"surfaces[0].treated_area": {"value": 1342, "unit": "ft**2"}},
     "surfaces[0].treated_area: value must be text in quotation marks, got 1342"),
    ({"surfaces[0].treated_area": {"value": "1342"}}, "surfaces[0].treated_area: a quantity needs unit"),
    ({"equipment[0].tank": {"value": "0", "unit": "gal"}},
     "equipment[0].tank: this must be above 0, got 0 gal"),
    ({"weather.readings[0].wind_speed": {"value": "-1", "unit": "mph"}},
     "weather.readings[0].wind_speed: a speed cannot be below 0, got -1 mph"),
    ({"mixes[0].products[0].amount": {"value": "1.5", "unit": "ft"}},
     "mixes[0].products[0].amount: expected a volume or a weight, got 1.5 ft"),
    ({"mixes[0].products[0].label.limits[0].max": {"value": "10", "unit": "degF"}},
     "mixes[0].products[0].label.limits[0].max: expected a speed, got 10 °F"),
    ({"mixes[0].products[0].label.limits[0].of": "applications_per_year"},
     "mixes[0].products[0].label.limits[0].max: expected a count as text such as \"2\", "
     'got {"value": "10", "unit": "mph"}'),
    ({"mixes[0].products[0].label.limits[0].of": "wind"},
     "mixes[0].products[0].label.limits[0].of: expected one of wind_speed, wind_speed_min, gust, "
     "temperature, "
     "coverage, dilution, product_rate, hours_dry_after, reentry, days_between, applications_per_year, "
     'per_year, buffer, got "wind"'),
    ({"surfaces[0].treatd_area": {"value": "1342", "unit": "ft**2"}},
     "surfaces[0].treatd_area: unknown member; the members here are id, name, kind, material, plan_area, "
     "pitch, treated_area"),
    ({"record.colour": "red"},
     "record.colour: unknown member; the members here are id, number, version, replaces, reason, "
     "corrected_at, "
     "result, why, entered_by"),
    ({"targets[0]": "mos"},
     'targets[0]: expected one of moss, algae, lichen, mould, weeds, other, got "mos"'),
    ({"targets": "moss"}, 'targets: expected a list, got "moss"'),
    ({"people[0].tasks": [None]}, "people[0].tasks[0]: expected text in quotation marks, got null"),
    ({"timing": []},
     "timing: expected an object with members (planned_at, started_at, finished_at, recorded_at, reentry_at, "
     "pauses), got []"),
    ({"timing.started_at": "2026-09-14T09:12:00"},
     "timing.started_at: expected a time with its offset from UTC, for example 2026-09-14T09:12:00-07:00, "
     "got 2026-09-14T09:12:00"),
    ({"timing.started_at": "14 September"},
     "timing.started_at: expected a time such as 2026-09-14T09:12:00-07:00, got 14 September"),
    ({"equipment[0].calibrated_on": "2026-09-31"},
     "equipment[0].calibrated_on: there is no such day: 2026-09-31"),
    ({"timing.finished_at": "2026-09-14T09:11:59-07:00"},
     "timing.finished_at: the finish 2026-09-14T09:11:59-07:00 is before the start "
     "2026-09-14T09:12:00-07:00"),
    ({"weather.readings[0].by": "N. Obody"},
     'weather.readings[0].by: there is no "N. Obody" in people; named there: "R. Osei"'),
    ({"people[0].supervised_by": "N. Obody"},
     'people[0].supervised_by: there is no "N. Obody" in people; named there: "R. Osei"'),
    ({"mixes[0].surfaces[0].surface": "East slope"},
     'mixes[0].surfaces[0].surface: there is no "East slope" in surfaces; named there: '
     '"Main roof, north slope"'),
    ({"mixes[0].left_over.surface": "East slope"},
     'mixes[0].left_over.surface: there is no "East slope" in surfaces; named there: "Main roof, north '
     'slope"'),
    ({"mixes[0].equipment": "Rig 9"},
     'mixes[0].equipment: there is no "Rig 9" in equipment; named there: "Rig 2"'),
    ({"protection[0].features": ["pond"]},
     'protection[0].features[0]: there is no "pond" in site.features; named there: "curb inlet", '
     '"north-west downspout"'),
    ({"people": [{"name": "R. Osei"}, {"name": "R. Osei"}]},
     'people[1].name: "R. Osei" is already the name of people[0]; names must differ'),
    ({"timing.recorded_at": "1899-12-31T23:59:59Z"},
     "timing.recorded_at: expected a year from 1900 to 2199, got 1899-12-31T23:59:59Z"),
    ({"equipment[0].calibrated_on": "2200-01-01"},
     "equipment[0].calibrated_on: expected a year from 1900 to 2199, got 2200-01-01"),
    ({"site.time_zone": "PST"},
     "site.time_zone: unknown time zone PST; expected a name such as America/Los_Angeles"),
    ({"site.jurisdictions": ["us", "US-WA"]},
     'site.jurisdictions[1]: expected a place or authority such as us-wa, got "US-WA"'),
    ({"site.jurisdictions": ["us-wa", "us"]},
     "site.jurisdictions[1]: us is wider than us-wa, which stands before it; places run from wide to narrow"),
    ({"site.jurisdictions": ["us", 5]},
     'site.jurisdictions[1]: expected text in quotation marks, got the number 5; write "5"'),
    ({"site.jurisdictions": ["us", "us"]}, "site.jurisdictions[1]: us stands here twice"),
    ({"site.position.latitude": "97"}, "site.position.latitude: expected a number from -90 to 90, got 97"),
    ({"surfaces[0].pitch.rise": "6/12"},
     "surfaces[0].pitch.rise: 6 and 12 are two numbers: each has its own place; a pitch of 6/12 has the rise 6 "
     "and the run 12"),
    ({"surfaces[0].pitch.rise": "6.0.1"},
     'surfaces[0].pitch.rise: expected a number as text such as "2.5", got "6.0.1"'),
    ({"surfaces[0].pitch.rise": 6.5},
     'surfaces[0].pitch.rise: expected text in quotation marks, got the number 6.5; write "6.5"'),
    ({"record.number": 142},
     'record.number: expected text in quotation marks, got the number 142; write "142"'),
    ({"record.version": "1"},
     'record.version: expected a whole number, 0 or more and without quotation marks, got "1"'),
    ({"record.id": "5E0B1C1E-6D1C-4F7E-9A53-0A6C1F5D2B11"},
     "record.id: expected an id (a UUID in lower case) such as 5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11, "
     'got "5E0B1C1E-6D1C-4F7E-9A53-0A6C1F5D2B11"'),
    ({"site.indoors": "false"}, 'site.indoors: expected true or false, got "false"'),
    ({"customer.name": " "}, "customer.name: expected text, got none; leave the member out or write null"),
    ({"customer.name": "A\u0000B"},
     "customer.name: this text holds a control character (U+0000); take it out"),
    ({"customer.name": "x" * 2001}, "customer.name: expected at most 2000 characters, got 2001"),
    ({"notes": "x" * 20_001}, "notes: expected at most 20000 characters, got 20001"),
    ({"targets": ["moss"] * 501}, "targets: expected at most 500 items, got 501"),
    ({"schema": "treatment-document/2"},
     'schema: expected "treatment-document/1", got "treatment-document/2"'),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "message"), DAMAGED, ids=[message[:60] for _, message in DAMAGED])
def test_a_fault_names_its_path_and_what_would_be_right(changes, message):
    assert faults(changed(changes)) == [message]


@pytest.mark.parametrize("name", NAMES)
def test_the_documents_that_are_shown_as_examples_read(name):
    assert isinstance(read((FOLDER / f"{name}.json").read_bytes()), TreatmentDocument)


def test_only_schema_and_record_must_be_there():
    assert read(MINIMAL).surfaces is None
    assert faults({"schema": "treatment-document/1"}) == ["record: this must be there"]
    assert faults({"record": {}}) == ["schema: this must be there"]


@pytest.mark.parametrize("member", [name for name in document() if name not in ("schema", "record")])
def test_any_other_member_may_be_left_out_or_null(member):
    without = {name: value for name, value in document().items() if name != member}
    assert read(without) == read({**without, member: None})


def test_an_empty_list_is_not_the_same_as_a_list_left_out():
    assert read({**MINIMAL, "permits": []}).permits == []
    assert read(MINIMAL).permits is None


def test_all_faults_are_reported_not_only_the_first():
    damaged = changed(
        {
            "surfaces[0].treated_area": {"value": "1", "unit": "gal"},
            "timing.started_at": "yesterday",
            "weather.readings[0].by": "N. Obody",
            "colour": "red",
        }
    )
    paths = [message.partition(":")[0] for message in faults(damaged)]
    assert sorted(paths) == [
        "colour",
        "surfaces[0].treated_area",
        "timing.started_at",
        "weather.readings[0].by",
    ]


def test_a_list_whose_names_are_at_fault_gives_no_follow_on_faults():
    assert faults(changed({"people[0].name": 5})) == [
        'people[0].name: expected text in quotation marks, got the number 5; write "5"'
    ]


def test_a_reference_may_go_by_id():
    person = "0a6c1f5d-2b11-4f7e-9a53-000000000005"
    assert faults(changed({"people[0].id": person, "weather.readings[0].by": person})) == []


def test_two_items_with_one_id_are_a_fault_but_one_product_may_stand_in_a_mix_twice():
    full = document("full")
    reading, line = full["weather"]["readings"][0], full["mixes"][0]["products"][0]
    twice = {"weather.readings": [reading, reading], "mixes[0].products": [line, {**line, "lot": "L-0458"}]}
    assert faults(changed(twice, "full")) == [
        f'weather.readings[1].id: "{reading["id"]}" is already the id of weather.readings[0]; ids must differ'
    ]


@pytest.mark.parametrize(
    "finish", ["2026-09-14T09:12:00-07:00", "2026-09-14T16:12:00Z", "2026-09-14T18:00:00+01:00"]
)
def test_a_finish_is_compared_as_an_instant_whatever_the_offset(finish):
    assert faults(changed({"timing.finished_at": finish})) == []


def test_spans_within_a_mix_and_pauses_run_forwards_too():
    backwards = {"started_at": "2026-09-14T09:30:00-07:00", "finished_at": "2026-09-14T09:20:00-07:00"}
    surface = {"surface": "Main roof, north slope", **backwards}
    found = faults(changed({"timing.pauses": [backwards], "mixes[0].surfaces": [surface]}))
    assert [message.partition(":")[0] for message in found] == [
        "timing.pauses[0].finished_at",
        "mixes[0].surfaces[0].finished_at",
    ]


@pytest.mark.parametrize(
    "changes",
    [
        {"mixes[0].loads[0].volume": {"value": "99", "unit": "gal"}},
        {"mixes[0].applied": {"value": "40", "unit": "gal"}},
        {"mixes[0].products[0].label.limits[0].min": {"value": "20", "unit": "mph"}},
        {"mixes[0].surfaces[0].applied": {"value": "1", "unit": "gal"}},
        {"surfaces[0].treated_area": {"value": "99999", "unit": "ft**2"}},
    ],
)
def test_sums_that_disagree_are_no_faults_so_that_a_record_can_tell_the_truth(changes):
    assert faults(changed(changes)) == []


def test_only_temperatures_go_below_zero():
    assert faults(changed({"weather.readings[0].temperature": {"value": "-4", "unit": "degF"}})) == []


def test_a_count_of_treatments_is_text():
    limit = {"of": "applications_per_year", "max": "2"}
    assert faults(changed({"mixes[0].products[0].label.limits[0]": limit})) == []


def test_a_fault_that_the_wordings_do_not_know_is_not_passed_over():
    with pytest.raises(AssertionError, match="a fault without words: invented"):
        _fault(TreatmentDocument, {"type": "invented", "loc": (), "msg": "", "input": None})


def test_faults_are_said_in_spanish_too():
    assert faults(changed({"surfaces[0].treated_area": {"value": "3000", "unit": "gal"}}), language="es") == [
        "surfaces[0].treated_area: se esperaba una superficie, se recibió 3000 gal"
    ]
    assert faults("{", language="es") == [
        "documento: esto no es JSON: no se puede leer la línea 1, columna 2"
    ]


def test_the_exception_says_the_first_faults_itself():
    with pytest.raises(DocumentFaults, match="record: this must be there"):
        read({"schema": "treatment-document/1"})
