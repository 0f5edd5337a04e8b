"""The record sheet as printed: everything on it, well made, and the same bytes every time."""

import json
import re
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any

import pytest
from babel.dates import format_date

from compliance.papers import record_sheet
from records.document.faults import DocumentFaults
from records.document.record_file import read_record_file
from records.document.words import WORD_LISTS, label
from shared.quantities import Quantity
from tests.compliance.papers.pdf import fonts_of, printed, squeezed, text_of
from tests.compliance.papers.samples import absurd, follow_ups, full, ordinary, signed, usual

BASE = "https://records.example.net"
NAMES_FOR_MACHINES = {"schema", "id", "notice", "media_type", "bytes"}
LOCALES = {"en": "en_US", "es": "es_US"}


def leaves(value: Any, name: str = "") -> Iterator[tuple[str, Any]]:
    """Every fact of a document with its member's name; quantities whole."""
    if isinstance(value, dict) and set(value) == {"value", "unit"}:
        yield name, Quantity(**value)
    elif isinstance(value, dict):
        for member, inner in value.items():
            yield from leaves(inner, member)
    elif isinstance(value, list):
        for inner in value:
            yield from leaves(inner, name)
    elif value is not None and not isinstance(value, bool) and name not in NAMES_FOR_MACHINES:
        yield name, value


def ways_to_say(name: str, value: Any, language: str) -> list[str]:
    """How a fact may stand on paper."""
    if isinstance(value, Quantity):
        return [value.say(language)]
    text = str(value)
    if re.match(r"\d{4}-\d\d-\d\dT", text):
        return [f"{datetime.fromisoformat(text):%H:%M}"]
    if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        return [str(format_date(date.fromisoformat(text), "medium", locale=LOCALES[language]))]
    if name == "sha256":
        return [text[:12]]
    return [text, *(label(words, text, language) for words in WORD_LISTS if text in WORD_LISTS[words])]


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("make", [ordinary, full, absurd])
def test_every_fact_of_the_document_stands_on_the_sheet(make, language: str) -> None:
    document = make()
    text = text_of(printed(signed(document), language=language))
    unsaid = [
        (name, value)
        for name, value in leaves(document)
        if not any(squeezed(way) in text for way in ways_to_say(name, value, language))
    ]
    assert unsaid == []


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_an_ordinary_treatment_takes_one_page_and_a_full_one_two(language: str, paper: str) -> None:
    options = {"language": language, "paper": paper, "base_address": BASE}
    assert len(printed(ordinary(), **options).pages) == 1
    assert len(printed(signed(ordinary()), **options).pages) == 1
    assert len(printed(signed(full(), follow_ups=follow_ups()), **options).pages) == 2


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_treatment_with_all_that_is_usual_takes_one_page(language: str, paper: str) -> None:
    """A mix, two people, two readings, four features, remarks, and a follow-up printed later."""
    file = signed(usual(), follow_ups=follow_ups()[1:])
    assert len(printed(file, language=language, paper=paper, base_address=BASE).pages) == 1


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_the_page_has_the_size_of_the_paper(paper: str, size: tuple[int, int]) -> None:
    """US Letter is 8.5 x 11 in (ANSI/ASME Y14.1, size A); A4 is 210 x 297 mm (ISO 216); 72 points an inch."""
    box = printed(ordinary(), paper=paper).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_same_record_gives_the_same_bytes(language: str) -> None:
    data = json.dumps(signed(full(), follow_ups=follow_ups()))
    first = record_sheet.build(data, language, "letter", BASE)
    assert record_sheet.build(data, language, "letter", BASE) == first


def test_all_fonts_are_embedded() -> None:
    fonts = list(fonts_of(printed(signed(full()))))
    assert fonts
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)


def test_letters_with_accents_of_every_latin_alphabet_are_printed() -> None:
    document = ordinary()
    document["customer"]["name"] = "Åsa Þórğlænď Çelik-Őry Żuław ñandú ß Ệ"
    assert squeezed("Åsa Þórğlænď Çelik-Őry Żuław ñandú ß Ệ") in text_of(printed(document))


def test_a_character_without_a_glyph_is_named_not_lost() -> None:
    document = ordinary()
    document["customer"]["name"] = "A. 中 Marlowe"
    assert "a.[u+4e2d]marlowe" in text_of(printed(document))


def test_markup_in_a_name_is_printed_as_typed() -> None:
    document = ordinary()
    document["customer"]["name"] = "<b>A & B</b> <br/>"
    assert squeezed("<b>A & B</b> <br/>") in text_of(printed(document))


def test_metadata_name_the_record_the_firm_and_the_language() -> None:
    pdf = printed(signed(ordinary()), language="es")
    assert pdf.metadata.title == "Registro de aplicación de pesticida – Registro 2026-0142, versión 1"
    assert pdf.metadata.author == "Quillfeather Exterior Care"
    assert pdf.metadata.subject == "Registro 2026-0142, versión 1"
    assert pdf.trailer["/Root"]["/Lang"] == "es"


@pytest.mark.parametrize(("language", "stamp"), [("en", "NOT SIGNED"), ("es", "NO FIRMADO")])
def test_a_mere_document_says_on_every_page_that_it_is_not_signed(language: str, stamp: str) -> None:
    pages = printed(absurd(), language=language).pages
    assert len(pages) > 2
    assert all(stamp in page.extract_text() for page in pages)


def test_a_signed_record_carries_no_stamp() -> None:
    assert "notsigned" not in text_of(printed(signed(full())))


def test_pages_are_numbered_of_how_many_and_name_the_record() -> None:
    file = signed(absurd())
    pages = printed(file).pages
    digest = read_record_file(file).digest
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page.extract_text()
        assert f"Record 2026-0142 · version 2 · {digest}" in page.extract_text()


def test_the_cautions_stand_on_the_sheet() -> None:
    text = text_of(printed(signed(ordinary())))
    for caution in (
        "The product label is the law",
        "protective equipment",
        "Work at height",
        "power lines",
        "Keep mix and rinse water out of drains",
        "Local codes and licensed practice",
    ):
        assert squeezed(caution) in text


def test_a_changed_section_is_refused() -> None:
    file = signed(ordinary())
    file["sections"]["mixes"][0]["applied"]["value"] = "12"
    with pytest.raises(DocumentFaults) as refused:
        printed(file)
    assert [fault.path for fault in refused.value.faults] == ["sections.mixes"]


def test_a_record_file_without_signatures_is_refused() -> None:
    file = signed(ordinary())
    del file["record"]["signatures"]
    with pytest.raises(DocumentFaults) as refused:
        printed(file)
    assert [fault.path for fault in refused.value.faults] == ["record.signatures"]


@pytest.mark.parametrize("name", ["customer", "people", "mixes", "site", "firm", "timing", "weather"])
def test_a_withheld_section_is_named_and_nothing_of_it_printed(name: str) -> None:
    file = signed(full(), withhold=(name,))
    text = text_of(printed(file))
    assert squeezed(f"{name} {file['record']['sections'][name]}"[: len(name) + 24]) in text
    if name == "customer":
        assert "marlowe@example.net" not in text


def test_nothing_of_a_neighbour_is_printed() -> None:
    document = ordinary()
    document["notices"].append({"to": "neighbour", "name": "B. Lark", "means": "letter"})
    text = text_of(printed(document))
    assert "lark" not in text
    assert "neighbour" in text


def test_an_empty_document_prints_what_is_missing() -> None:
    pdf = printed({"schema": "treatment-document/1", "record": {}})
    assert text_of(pdf).count("notrecorded") > 10


def test_a_correction_names_the_version_that_it_replaces_and_why() -> None:
    text = text_of(printed(signed(full())))
    for said in ("Replaces version 1", "sha256:" + "1f" * 32, "The tank gauge was misread"):
        assert squeezed(said) in text


def test_follow_ups_stand_on_the_sheet_oldest_first() -> None:
    text = text_of(printed(signed(ordinary(), follow_ups=follow_ups())))
    assert text.index("copygiven") < text.index("signremoved")
    assert "bye-mailtothecustomer" in text


@pytest.mark.parametrize("time", ["1900-01-01T00:00:00Z", "2199-12-31T23:59:59Z", "2026-09-14T23:59:60Z"])
def test_a_time_at_an_end_of_the_documents_years_is_printed(time: str) -> None:
    document = ordinary()
    document["site"]["time_zone"] = "Pacific/Kiritimati" if time.startswith("21") else "America/Los_Angeles"
    document["timing"] = {"planned_at": time, "started_at": time, "finished_at": time, "recorded_at": time}
    assert ":" in text_of(printed(document))


@pytest.mark.parametrize(("value", "unit"), [("999999999999", "ft**2"), ("0.000000001", "m**2")])
def test_an_area_too_large_or_small_to_reckon_with_is_printed_as_entered(value: str, unit: str) -> None:
    document = ordinary()
    for surface in document["surfaces"]:
        surface["plan_area"] = surface["treated_area"] = {"value": value, "unit": unit}
    document["surfaces"].append(document["surfaces"][0] | {"name": "another"})
    assert value in text_of(printed(document))


@pytest.mark.parametrize("name", ["people", "surfaces", "mixes", "equipment", "notices", "postings", "permits"])
def test_an_item_of_which_nothing_is_known_is_printed(name: str) -> None:
    bare = {"schema": "treatment-document/1", "record": {}, "mixes": [{"products": [{}]}]}
    assert "notcomputable" in text_of(printed(bare | {name: [{}, {}]}))


def test_a_sign_is_printed_with_the_height_of_its_letters() -> None:
    document = ordinary()
    document["postings"] = [{"where": "front walk", "letters": {"value": "0.375", "unit": "inch"}}]
    assert "frontwalk,lettersof0.375in" in text_of(printed(document))


@pytest.mark.parametrize("run", ["0", "0.000000001"])
def test_a_pitch_without_a_run_has_no_area(run: str) -> None:
    document = ordinary()
    document["surfaces"][0]["pitch"] = {"rise": "6", "run": run}
    assert f"6:{run}" in text_of(printed(document))
