"""What a search finds leaves as CSV and as a workbook: as on the page, without a live formula."""

import csv
import io
from datetime import date

import pytest
from django.urls import reverse
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from records.models import Customer, Treatment
from records.services.planning import plan_treatment
from tests.records.auditing.entries import newest

EVIL = '=HYPERLINK("http://example.net","A. Marlowe")'


@pytest.fixture
def evil(firm, member, plan) -> Treatment:
    plan.site.customer.name = EVIL
    plan.site.customer.save()
    return plan_treatment(firm, member.user, plan)


def table(client, **query) -> list[dict[str, str]]:
    answer = client.get(reverse("register_csv"), query)
    assert answer.status_code == 200
    return list(csv.DictReader(io.StringIO(answer.getvalue().decode("utf-8-sig"))))


def sheet(client, **query) -> list[dict]:
    answer = client.get(reverse("register_xlsx"), query)
    rows = load_workbook(io.BytesIO(answer.content)).active.iter_rows(values_only=True)
    names = next(rows)
    return [dict(zip(names, row, strict=True)) for row in rows]


def test_a_file_holds_what_the_search_finds_in_its_order(client, firm, draft, done, member):
    client.force_login(member.user)
    assert [row["Number"] for row in table(client, order="number")] == sorted({draft.number, done.number})
    assert table(client, customer="nobody") == []
    (row,) = [row for row in table(client) if row["Number"] == done.number]
    assert row["Day"] == "2026-09-14"
    assert row["Customer"] == "A. Marlowe"
    assert (row["Result"], row["State"]) == ("treated", "Draft")
    entry = newest(firm)
    assert (entry.kind, entry.page) == ("exported", "treatments/register.csv")


def test_a_workbook_says_the_same_with_days_and_amounts_as_such(client, done, member):
    done.treated_area = "9.290304"
    done.save()
    client.force_login(member.user)
    (row,) = sheet(client, customer="marlowe")
    (said,) = table(client)
    assert row["Day"].date() == date(2026, 9, 14)
    assert row["Treated area (ft²)"] == 100
    assert {name: str(value or "") for name, value in row.items() if name != "Day"} == {
        name: value for name, value in said.items() if name != "Day"
    }


def test_no_cell_of_either_file_is_a_live_formula(client, evil, member):
    client.force_login(member.user)
    assert table(client)[0]["Customer"] == "'" + EVIL
    answer = client.get(reverse("register_xlsx"))
    cells = [cell for row in load_workbook(io.BytesIO(answer.content)).active.iter_rows() for cell in row]
    assert "'" + EVIL in [cell.value for cell in cells]
    assert not [cell for cell in cells if cell.data_type == "f"]
    assert Customer.objects.for_firm(evil.firm).get().name == EVIL


@pytest.mark.parametrize("query", [{"day_from": "yesterday"}, {"wind_least": "much"}, {"nonsense": "1"}])
@pytest.mark.parametrize("name", ["register_csv", "register_xlsx"])
def test_a_search_that_makes_no_sense_gives_no_file(client, draft, member, name, query):
    client.force_login(member.user)
    assert client.get(reverse(name), query).status_code == 400


def test_a_workbook_has_a_bound_and_says_what_has_none(client, draft, done, member, monkeypatch):
    monkeypatch.setattr("records.pages.register_files.MOST_ROWS", 0)
    client.force_login(member.user)
    answer = client.get(reverse("register_xlsx"), {"customer": "marlowe"})
    assert answer.status_code == 422
    assert f"{reverse('register_csv')}?customer=marlowe" in answer.content.decode()


@pytest.mark.parametrize("name", ["register_csv", "register_xlsx"])
def test_an_inspector_takes_out_neither_drafts_nor_outcomes(client, draft, member, name):
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    rows = table(client) if name == "register_csv" else sheet(client)
    assert rows == []
    head = client.get(reverse("register_csv")).getvalue().decode("utf-8-sig").splitlines()[0]
    assert "Outcome" not in head


def test_a_column_of_the_workbook_is_as_wide_as_what_stands_in_it(client, draft, member):
    client.force_login(member.user)
    sheet = load_workbook(io.BytesIO(client.get(reverse("register_xlsx")).content)).active
    for number, column in enumerate(sheet.iter_cols(), 1):
        longest = max(len(cell.value) for cell in column if isinstance(cell.value, str))
        assert sheet.column_dimensions[get_column_letter(number)].width >= min(longest, 60)
