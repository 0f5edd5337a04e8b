"""The report of an incident: facts with their times in full, names only where asked for, the record."""

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from compliance.papers import incident_report
from compliance.papers.incident_report import Step, Told
from compliance.papers.incident_report.content import content_of
from compliance.papers.incident_report.wording import OWN
from compliance.papers.record_sheet.wording import WORDS as RECORD_WORDS
from records.document.reader import read
from records.document.types import Product
from shared.paper import as_json
from shared.quantities import Quantity
from tests.compliance.papers.drawn import text_of
from tests.compliance.papers.samples import full

SPILL = Told(
    firm="Quillfeather Exterior Care",
    address="12 Cooper Lane, Port Quill WA 98000",
    phone="+1 360 555 0100",
    kind="spill",
    state="reported",
    happened_at="2026-09-14T09:40:00-07:00",
    known_at="2026-09-14T09:55:00-07:00",
    begun_at="2026-09-14T09:56:00-07:00",
    begun_by="R. Osei",
    zone="America/Los_Angeles",
    customary=True,
    place="House, 4 Heron Row, behind the garage",
    description="A hose burst at the reel.",
    amount=Quantity("2", "L"),
    reached=["drain", "hard-ground"],
    affected="A neighbour's dog walked through it.",
    named=True,
    action="Shut down, ringed with sand, soaked up.",
    told=[
        Step("2026-09-14T09:58:00-07:00", "R. Osei", "Two liters, at the drain.", "Duty officer", "by phone",
             "26-0041", "Department of Ecology, if you spill"),
    ],
    since=[Step("2026-09-15T08:00:00-07:00", "J. Quill", "The drain was flushed by the city.")],
    number="2026-0142",
    signed=True,
)  # fmt: skip
STORE = replace(
    SPILL,
    number="",
    place="In the store",
    told=[],
    since=[],
    product=Product.model_validate(
        {
            "name": "Sample Moss Wash",
            "registration_number": "99999-12",
            "active_ingredients": [{"name": "potassium salts of fatty acids", "percent": "40"}],
        }
    ),
)


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_content_is_as_looked_at(golden, language: str) -> None:
    golden(f"incident.{language}", as_json(content_of(SPILL, read(full()), language)))


def test_it_states_times_in_full_and_amounts_as_entered_and_as_read_there() -> None:
    said = text_of(incident_report.build(SPILL))
    assert "Sep 14, 2026, 09:40 (UTC-07:00)" in said
    assert "2 L (0.528 gal)" in said
    assert "a drain or sewer" in said
    assert "26-0041" in said


def test_names_stand_on_it_only_where_they_were_asked_for() -> None:
    assert "Names are known to the firm, and left out here." in text_of(incident_report.build(SPILL))
    with_names = text_of(incident_report.build(replace(SPILL, names="B. Lark")))
    assert "B. Lark" in with_names
    assert "left out here" not in with_names


def test_of_a_spill_in_the_store_the_product_stands_as_its_label_states_it_and_that_nobody_was_told() -> None:
    said = text_of(incident_report.build(STORE))
    for words in ("99999-12", "potassium salts of fatty acids 40 %", "Nobody yet.", "In the store"):
        assert words in said


def test_it_finds_no_fault_and_says_of_what_is_not_known_that_it_is_not_recorded() -> None:
    unknown = {"description": "", "affected": "", "action": "", "amount": None, "reached": [], "product": None}
    said = text_of(incident_report.build(replace(STORE, named=False, **unknown)))
    assert said.lower().count("not recorded") == 3
    for word in ("not met", "violation", "overdue"):
        assert word not in said.lower()


def test_the_same_incident_prints_the_same_bytes_and_names_itself() -> None:
    once, again = (incident_report.build(SPILL, read(full()), "es", "a4") for _ in range(2))
    assert once == again
    about = PdfReader(BytesIO(once)).metadata
    assert about is not None
    assert about.title == "Informe de incidente – derrame, 14 sept 2026, 09:40 (UTC-07:00)"


def test_its_own_words_do_not_take_the_place_of_the_record_sheets() -> None:
    assert not set(OWN) & set(RECORD_WORDS)
