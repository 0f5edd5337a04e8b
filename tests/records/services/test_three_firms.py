"""Spreadsheets of three invented firms with three habits come in whole."""

from datetime import date
from pathlib import Path

import pytest

from records.models import (
    ArrivalFile,
    ArrivedRow,
    Customer,
    LabelVersion,
    Licence,
    Lot,
    Site,
    Treatment,
    TreatmentProduct,
)
from records.services.bringing_in.files import keep_file, say
from records.services.bringing_in.turns import begin_look, begin_taking

SPREADSHEETS = Path(__file__).parents[3] / "fixtures" / "spreadsheets"


@pytest.fixture
def whole(colleague):
    """Bring a file in as it is, with answers to what it asks and nothing else said but the sheet."""

    def whole(name: str, sheet: str = "", **answers: str) -> ArrivalFile:
        file = keep_file((SPREADSHEETS / name).read_bytes(), name, colleague.user, colleague.firm)
        if sheet:
            say(file, {"sheet": sheet})
        begin_look(file, colleague.user)
        file.refresh_from_db()
        assert {each["about"] for each in file.doubts} == set(answers)
        if answers:
            say(file, answers)
            begin_look(file, colleague.user)
        faulty = ArrivedRow.objects.for_firm(colleague.firm).filter(file=file).exclude(faults=[])
        assert [row.faults for row in faulty] == []
        file.refresh_from_db()
        begin_taking(file, colleague.user)
        file.refresh_from_db()
        assert file.state == ArrivalFile.State.TAKEN
        return file

    return whole


def old(firm, **wanted) -> list[Treatment]:
    return list(Treatment.objects.for_firm(firm).filter(state="brought-in", **wanted).order_by("day", "number"))


def test_a_log_with_the_units_in_its_cells(whole, firm):
    assert whole("larkspur-log.csv").known == 0
    first = old(firm, number="L0001")[0]
    assert len(old(firm)) == 40
    assert (first.day, first.customer_name, first.site_name) == (date(2023, 3, 9), "C. Wren", "12 Quay Street")
    assert first.document["timing"] == {
        "started_at": "2023-03-09T13:00:00-08:00",
        "finished_at": "2023-03-09T13:25:00-08:00",
    }
    assert [each["name"] for each in first.document["people"]] == ["R. Osei", "M. Pell"]
    assert first.document["weather"]["readings"][0]["calm"] is True
    wide = old(firm, number="L0002")[0].document["surfaces"][0]["treated_area"]
    assert wide == {"value": "2400", "unit": "ft**2"}


def test_a_workbook_of_an_office_sheet_by_sheet(whole, firm):
    for sheet in ("Customers", "Products", "Licenses"):
        whole("fernhollow-office.xlsx", sheet)
    whole("fernhollow-office.xlsx", "Log 2024", ounces="fl_oz")
    assert [each.objects.for_firm(firm).count() for each in (Customer, LabelVersion, Lot, Licence)] == [
        10,
        2,
        3,
        3,
    ]
    assert {customer.region for customer in Customer.objects.for_firm(firm)} == {"Oregon"}
    pages = [each for each in old(firm) if each.document["surfaces"][0]["name"] == "Front walk"]
    assert pages and all(each.customer_name and each.day.year == 2024 for each in pages)
    lines = TreatmentProduct.objects.for_firm(firm)
    assert lines.count() == len(old(firm)) == lines.exclude(mixed_volume=None).count()


def test_a_spanish_log_with_days_first_and_metric_units(whole, firm):
    whole("penaclara-bitacora.csv")
    first, *others = old(firm)
    assert len(others) == 29
    assert first.day == date(2022, 10, 4)
    document = first.document
    assert document["surfaces"] == [{"name": "acera", "treated_area": {"value": "60.5", "unit": "m**2"}}]
    assert document["mixes"][0]["products"][0]["amount"] == {"value": "3.25", "unit": "L"}
    assert document["weather"]["readings"][0]["wind_speed"] == {"value": "9", "unit": "km/h"}
    site = Site.objects.for_firm(firm).get(pk=first.site_id)
    assert (site.customer.name, site.line1, site.county) == ("Peña Clara", "Calle Ñandú 3", "Quill County")
