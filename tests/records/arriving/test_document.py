"""A row of an old log as a treatment document that the strict reader takes."""

from datetime import date

from records.arriving.document import build
from records.arriving.entries import Entries
from records.arriving.kinds import guessed_columns, guessed_units
from records.arriving.reading import Asked
from records.document.days import treatment_day
from records.document.reader import read
from records.imports.table import Row

HEADER = (
    "Date",
    "Time",
    "Client",
    "Address",
    "Surface",
    "Surface type",
    "Area (sq ft)",
    "Target",
    "Product",
    "EPA Reg No",
    "Amount (gal)",
    "Water (gal)",
    "Mix applied (gal)",
    "Wind (mph)",
    "Temp (F)",
    "RH",
    "Sky",
    "Applied by",
    "License No",
    "Truck",
    "Notes",
)
CELLS = (
    "2025-04-03",
    "9:15-9:50",
    "A. Marlowe",
    "4 Heron Row",
    "North slope",
    "roof",
    "1200",
    "moss",
    "Sample Moss Wash",
    "99999-12",
    "1.5",
    "13.5",
    "14",
    "SW 3-5",
    "61",
    "70%",
    "clear",
    "R. Osei",
    "CO-00231",
    "Rig 2",
    "steep",
)
PARTS = {
    "firm": {"name": "Quillfeather Exterior Care"},
    "customer": {"name": "A. Marlowe"},
    "site": {"name": "4 Heron Row", "time_zone": "America/Los_Angeles"},
}
UUID = "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11"


def document_of(header, cells, language="en", **more):
    columns = guessed_columns("treatments", header)
    asked = Asked(units=guessed_units("treatments", header, columns))
    (row,) = Entries("treatments", header, columns, asked, date(2026, 9, 14)).read([Row(2, cells)])
    assert row.faults == []
    return build(row.entry, UUID, PARTS, "Brought in from log.csv, row 2.", language, **more)


def test_all_that_a_row_says_stands_in_the_document():
    document = document_of(HEADER, CELLS)
    read(document)
    assert document["timing"] == {
        "started_at": "2025-04-03T09:15:00-07:00",
        "finished_at": "2025-04-03T09:50:00-07:00",
    }
    assert document["surfaces"] == [
        {"name": "North slope", "kind": "roof", "treated_area": {"value": "1200", "unit": "ft**2"}}
    ]
    assert document["mixes"] == [
        {
            "products": [
                {
                    "name": "Sample Moss Wash",
                    "registration_number": "99999-12",
                    "amount": {"value": "1.5", "unit": "gal"},
                }
            ],
            "diluent": {"name": "water", "amount": {"value": "13.5", "unit": "gal"}},
            "applied": {"value": "14", "unit": "gal"},
        }
    ]
    assert document["people"] == [
        {"name": "R. Osei", "role": "applicator", "licences": [{"number": "CO-00231"}]}
    ]
    (reading,) = document["weather"]["readings"]
    assert reading == {
        "wind_from": {"value": "225", "unit": "degree"},
        "wind_speed": {"value": "5", "unit": "mph"},
        "temperature": {"value": "61", "unit": "degF"},
        "relative_humidity": {"value": "70", "unit": "percent"},
        "sky": "clear",
    }
    assert document["notes"] == "steep\nSW 3-5\nBrought in from log.csv, row 2."


def test_a_day_without_a_time_says_the_day_and_invents_no_start():
    document = document_of(("Date", "Client"), ("2025-04-03", "A. Marlowe"))
    assert document["timing"] == {"planned_at": "2025-04-03T00:00:00-07:00"}
    assert treatment_day(read(document)) == date(2025, 4, 3)
    assert set(document) == {"schema", "record", "firm", "customer", "site", "timing", "notes"}


def test_a_time_behind_the_day_is_the_start_and_midnight_is_none():
    started = document_of(("Date", "Client"), ("4/25/2025 9:15 AM", "A. Marlowe"))["timing"]
    assert started == {"started_at": "2025-04-25T09:15:00-07:00"}
    day = document_of(("Date", "Client"), ("2025-04-03 00:00:00", "A. Marlowe"))["timing"]
    assert day == {"planned_at": "2025-04-03T00:00:00-07:00"}


def test_a_surface_without_a_name_is_called_by_its_kind():
    document = document_of(("Date", "Client", "Surface type"), ("2025-04-03", "A. Marlowe", "walk"), "es")
    assert document["surfaces"] == [{"name": "acera", "kind": "walk"}]


def test_a_licence_number_beside_several_people_is_kept_and_given_to_nobody_but_its_known_holder():
    header = ("Date", "Client", "Applied by", "License No")
    cells = ("2025-04-03", "A. Marlowe", "R. Osei & M. Pell")
    said = "Applicator's licence number in the row: CO-00231\nBrought in from log.csv, row 2."
    document = document_of(header, (*cells, "CO-00231"))
    read(document)
    assert [each.get("licences") for each in document["people"]] == [None, None]
    assert document["notes"] == said
    known = document_of(header, (*cells, "CO-00231"), holder="m. pell")
    assert [each.get("licences") for each in known["people"]] == [None, [{"number": "CO-00231"}]]
    assert known["notes"] == said
    nobody = document_of(header, ("2025-04-03", "A. Marlowe", "", "CO-00231"))
    assert nobody["notes"] == said
