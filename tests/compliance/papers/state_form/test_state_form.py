"""Records on a paper with the elements of an authority's own form."""

import json
from datetime import UTC, datetime
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from compliance.pack_reader import registered_packs
from compliance.papers import state_form
from compliance.papers.record_sheet.source import read_source
from compliance.papers.state_form import FormFor
from compliance.papers.state_form.content import contents_of
from compliance.papers.state_form.elements import ELEMENTS
from compliance.papers.state_form.wording import WORDS
from compliance.rulebook import official_forms
from compliance.rulebook.official_forms import OfficialForm
from shared.paper import Facts, Grid, Note, SectionedPaper, as_json
from tests.compliance.papers.pdf import squeezed
from tests.compliance.papers.samples import full, ordinary, signed, usual

ASKED_AT = datetime(2026, 9, 15, tzinfo=UTC)


def washington() -> OfficialForm:
    (pack,) = [pack for pack in registered_packs() if pack.id == "us-wa"]
    return pack.forms[0]


def numbered(document: dict[str, Any], number: str, **more: Any) -> dict[str, Any]:
    document["record"]["number"] = number
    return document | more


def elsewhere() -> dict[str, Any]:
    document = json.loads(json.dumps(usual()).replace("R. Osei", "M. Okafor"))
    document["site"]["address"]["line1"] = "9 Gull Street"
    return numbered(document, "2026-0146", weather=None, permits=None)


def contents(
    *documents: dict[str, Any], language: str = "en", withheld: tuple[str, ...] = ()
) -> list[SectionedPaper]:
    files = [signed(each) for each in documents]
    for file in files:
        for name in withheld:
            del file["sections"][name], file["salts"][name]
    sources = [read_source(json.dumps(each)) for each in files]
    return contents_of(washington(), sources, language, FormFor("Department of Samples", ASKED_AT))


def said(paper: SectionedPaper, title: str) -> list[tuple[str, ...]]:
    """The lines of the section that begins so: the values of its facts, cells or notes."""
    (section,) = [one for one in paper.sections if one.title.startswith(title)]
    lines: list[tuple[str, ...]] = []
    for block in section.blocks:
        match block:
            case Facts():
                lines.append(tuple(fact.value for fact in block.facts))
            case Grid():
                lines += [row.cells for row in block.rows]
            case Note():
                lines.append((block.text,))
    return lines


def test_the_elements_stand_in_the_order_of_washingtons_form() -> None:
    """Washington State Department of Agriculture, form AGR 4226 (Rev. 5/03), version 1: items 3 to 14 as
    printed in chapter 16-228 WAC of 2003, items 1 and 2 from a form collection, address lines from memory."""
    asked = [[one.element for one in item.asks] for item in washington().numbered]
    assert asked == [
        ["day", "started", "finished"],
        ["customer", "customer_address"],
        ["licensee", "firm", "firm_licence", "firm_phone", "firm_address"],
        ["applied_by", "applicator_licence"],
        ["treated"],
        ["total_area"],
        ["permit"],
        ["product", "registration", "product_applied", "product_rate", "strength"],
        ["place"],
        ["wind_from", "wind_speed"],
        ["temperature"],
        ["apparatus", "plate"],
        ["way"],
        ["remarks"],
        ["by_hand"],
    ]
    numbers = [item.number for item in washington().numbered]
    assert numbers == [*map(str, range(1, 15)), "–"]


def test_one_application_answers_every_element() -> None:
    (paper,) = contents(ordinary())
    assert said(paper, "1 ") == [("September 14, 2026", "09:12", "09:47")]
    assert said(paper, "3 ")[0][:4] == ("J. Quill", "Quillfeather Exterior Care", "CA-00017", "+1 360 555 0100")
    assert said(paper, "4 ") == [("R. Osei", "CO-00231")]
    assert said(paper, "7 ") == [("No",)]
    assert said(paper, "10 ") == [("southwest (225°)", "4 mph")]
    assert said(paper, "12 ") == [("Rig 2, powered sprayer", "plate 555-QFX")]
    assert said(paper, "Still open") == [(WORDS["form/nothing-open"].en,)]
    assert paper.head[-1].value.startswith("Version 1")


def test_what_the_law_asks_is_not_said_to_have_been_done_and_a_record_signed_later_says_so() -> None:
    late = numbered(ordinary(), "2026-0151")
    for name in ("started_at", "finished_at"):
        late["timing"][name] = late["timing"][name].replace("2026-09-14", "2026-03-05")
    in_time, signed_late = (contents(each)[0] for each in (ordinary(), late))
    (records,) = [one for one in signed_late.sections if one.title == "Records"]
    (late_row,) = records.blocks[0].rows
    assert late_row.sentence == "signed 193 days after the day of the application"
    (records,) = [one for one in in_time.sections if one.title == "Records"]
    assert [row.sentence for row in records.blocks[0].rows] == [""]
    assert in_time.below[0].text.startswith("What the law asks of such a record: Made on the day")


def test_the_mark_of_a_pack_on_the_back_is_no_plate() -> None:
    document = ordinary()
    document["equipment"][0] |= {"method": "backpack-sprayer", "identification": "pack 3"}
    (paper,) = contents(document)
    assert "pack 3" not in json.dumps(as_json(paper))


def test_the_amount_is_what_was_applied_and_not_what_was_mixed() -> None:
    """1.5 gal of product in 15 gal of mix, of which 14 gal were applied on 1342 ft²: 1.5 × 14 / 15 = 1.4 gal,
    that is 1.4 / 13.42 = 0.1043 gal in 100 ft², at 1.5 / 15 = 10 %."""
    (paper,) = contents(ordinary())
    assert said(paper, "8 ") == [("Sample Moss Wash", "99999-12", "1.4 gal", "0.1043 gal/100 ft²", "10 %")]


def test_several_applications_at_one_place_share_a_form_and_what_is_the_same_is_said_once() -> None:
    (paper,) = contents(ordinary(), numbered(full(), "2026-0150"))
    assert paper.head[-1].value.startswith("Version 2")
    assert [line[:2] for line in said(paper, "Records")] == [("1", "2026-0142"), ("2", "2026-0150")]
    assert said(paper, "2 ") == [("A. Marlowe", "4 Heron Row, Port Quill, WA 98000, US")]
    products = [(nth, name) for nth, name, *_rest in said(paper, "8 ")]
    assert products[0] == ("1", "Sample Moss Wash")
    assert ("2", "Sample Spreader") in products, "an adjuvant has a line of its own"


def test_another_place_begins_a_form_of_its_own_and_several_applicators_choose_the_third() -> None:
    other = json.loads(json.dumps(numbered(ordinary(), "2026-0151")).replace("R. Osei", "M. Okafor"))
    here, there = contents(ordinary(), elsewhere(), other)
    assert here.head[-1].value.startswith("Version 3")
    assert [line[1] for line in said(here, "Records")] == ["2026-0142", "2026-0151"]
    assert said(here, "4 ") == [("1", "R. Osei", "CO-00231"), ("2", "M. Okafor", "CO-00231")]
    assert said(there, "9 ")[0][0].startswith("9 Gull Street")


def test_what_no_record_says_is_left_open_and_listed() -> None:
    (paper,) = contents(elsewhere())
    assert said(paper, "7 ") == [("not recorded",)]
    assert [line[0] for line in said(paper, "Still open")] == ["7", "10", "10", "11"]


def test_what_is_withheld_is_said_to_be_so_and_stands_nowhere() -> None:
    (paper,) = contents(ordinary(), withheld=("customer", "people"))
    assert said(paper, "2 ")[0] == (WORDS["head/withheld"].en,) * 2
    whole = json.dumps(as_json(paper))
    assert "Marlowe" not in whole
    assert "Osei" not in whole
    assert [line[0] for line in said(paper, "Still open")] == ["2", "2", "4", "4"]


def test_what_was_erased_after_its_term_is_not_taken_for_withheld() -> None:
    file = signed(ordinary())
    del file["sections"]["customer"], file["salts"]["customer"]
    file["erased"] = {"on": "2034-01-01", "under": ["Act 2"], "sections": ["customer"]}
    (paper,) = contents_of(washington(), [read_source(json.dumps(file))], "en", FormFor())
    assert said(paper, "2 ") == [(WORDS["head/erased"].en,) * 2]


def test_a_correction_after_the_records_were_asked_for_stands_out() -> None:
    (paper,) = contents(full())
    (records,) = [one for one in paper.sections if one.title == "Records"]
    (row,) = records.blocks[0].rows
    assert "AFTER THESE RECORDS WERE ASKED FOR: The tank gauge was misread" in row.sentence


def test_of_a_day_without_an_application_no_element_is_filled_in() -> None:
    stood_down = numbered(ordinary(), "2026-0147")
    stood_down["record"] |= {"result": "stood-down", "why": "wind"}
    (paper,) = contents(ordinary(), stood_down)
    assert len(said(paper, "Records")) == 1
    assert said(paper, "Not on this form") == [("2026-0147: nothing was applied.",)]
    (alone,) = contents(stood_down)
    assert said(alone, "Records") == [(WORDS["form/nothing-applied"].en,)]


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_content_of_three_applications_is_as_looked_at(golden, language: str) -> None:
    papers = contents(ordinary(), numbered(full(), "2026-0150"), elsewhere(), language=language)
    golden(f"state-form.{language}", as_json(papers))


def test_the_paper_prints_all_of_it_and_the_same_bytes_every_time() -> None:
    files = [signed(ordinary()), signed(elsewhere())]
    drawn = state_form.build(washington(), files, "es", "a4")
    assert drawn == state_form.build(washington(), files, "es", "a4")
    pdf = PdfReader(BytesIO(drawn))
    text = squeezed("".join(page.extract_text() for page in pdf.pages))
    for expected in ("9 Gull Street", "4 Heron Row", "Queda abierto", washington().doubt.es):
        assert squeezed(expected) in text
    assert len(pdf.pages) == 2


def test_every_element_that_a_pack_may_ask_for_can_be_said() -> None:
    assert set(official_forms.ELEMENTS) == set(ELEMENTS)
