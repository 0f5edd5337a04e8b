"""The record sheet's content: golden files, the inspector's order, and computed values."""

import json
from typing import Any

import pytest

from compliance.papers.record_sheet.content import content_of
from compliance.papers.record_sheet.source import read_source
from compliance.papers.record_sheet.wording import WORDS
from records.document.record_file import read_record_file
from shared.paper import Facts, Grid, SectionedPaper, as_json
from tests.compliance.papers.samples import follow_ups, full, ordinary, signed

BASE = "https://records.example.net/"


def sheet(file: dict[str, Any], language: str = "en") -> SectionedPaper:
    return content_of(read_source(json.dumps(file)), language, BASE)


def fact(content: SectionedPaper, label: str) -> tuple[str, str]:
    """The value of the first fact with this label, and what stands beside it."""
    blocks = [block for section in content.sections for block in section.blocks if isinstance(block, Facts)]
    found = next(one for block in blocks for one in block.facts if one.label == label)
    return found.value, found.beside


def column(content: SectionedPaper, title: str) -> list[str]:
    """The cells of the first table column with this title."""
    grids = [block for section in content.sections for block in section.blocks if isinstance(block, Grid)]
    for grid in grids:
        for place, one in enumerate(grid.columns):
            if one.title == title:
                return [row.cells[place] for row in grid.rows]
    raise LookupError(title)


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_content_of_an_ordinary_record_is_as_looked_at(golden, language: str) -> None:
    golden(f"record-ordinary.{language}", as_json(sheet(signed(ordinary()), language)))


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_content_of_a_full_record_is_as_looked_at(golden, language: str) -> None:
    file = signed(full(), follow_ups=follow_ups())
    golden(f"record-full.{language}", as_json(sheet(file, language)))


def test_the_parts_stand_in_the_order_of_the_states_form() -> None:
    """Washington State Department of Agriculture, form AGR 4226 (Rev. 5/03), items 1 to 14: date and times,
    person for whom, licensed applicator, who applied, site and area, products, wind and temperature,
    apparatus, miscellaneous."""
    titles = [section.title for section in sheet(full()).sections]
    order = [
        "Date and time", "Applied for", "Licensed applicator", "Applied by", "Site and area",
        "Products applied\nMix 1 of 2", "Wind and weather", "Apparatus", "Remarks",
    ]  # fmt: skip
    assert [title for title in titles if title in order] == order


def test_what_was_measured_stands_beside_what_was_planned() -> None:
    content = sheet(ordinary())
    assert fact(content, "Start") == ("09:12", "planned 09:00")
    assert fact(content, "Finished mix applied") == ("14 gal", "measured by tank gauge")
    assert fact(content, "Finished mix made") == ("15 gal", "1.5 gal + 13.5 gal")
    assert column(content, "Area by plan and pitch") == ["1342 ft²"]
    assert column(content, "Area treated") == ["1342 ft²"]


def test_product_applied_rate_and_strength_are_computed() -> None:
    """By hand: 1.5 gal x 14 / 15 = 1.4 gal; 1.4 gal / 13.42 = 0.1043 gal per 100 ft²; 1.5 / 15 = 10 %;
    14 gal / 13.42 = 1.043 gal per 100 ft²."""
    content = sheet(ordinary())
    assert column(content, "Total applied") == ["1.4 gal"]
    assert column(content, "Rate") == ["0.1043 gal/100 ft²"]
    assert column(content, "Strength") == ["10 %"]
    assert fact(content, "Finished mix per area") == ("1.043 gal/100 ft²", "14 gal on 1342 ft²")


def test_an_amount_that_cannot_be_computed_says_so() -> None:
    document = ordinary()
    document["mixes"][0]["applied"] = None
    content = sheet(document)
    assert column(content, "Total applied") == ["not computable"]
    assert fact(content, "Finished mix applied")[0] == "not recorded"


@pytest.mark.parametrize(
    ("degrees", "said"),
    [
        ("0", "north (0°)"),
        ("11.24", "north (11.24°)"),
        ("11.25", "north-northeast (11.25°)"),
        ("90", "east (90°)"),
        ("225", "southwest (225°)"),
        ("348.74", "north-northwest (348.74°)"),
        ("348.75", "north (348.75°)"),
        ("360", "north (360°)"),
    ],
)
def test_wind_is_said_as_a_compass_point_and_degrees(degrees: str, said: str) -> None:
    """Sixteen points of 22.5 degrees each, centred on north: common practice, no source."""
    document = ordinary()
    document["weather"]["readings"][0]["wind_from"]["value"] = degrees
    assert column(sheet(document), "Wind from") == [said]


def test_units_of_the_place_stand_beside_others_as_entered() -> None:
    """1 mile is 1.609344 km exactly (NIST SP 811, appendix B.8): 10 km/h is 6.21 mph; 17 °C is 62.6 °F."""
    content = sheet(full())
    assert column(content, "Wind speed")[1] == "10 km/h (6.21 mph)"
    assert column(content, "Temperature")[1] == "17 °C (62.6 °F)"


def test_calm_air_has_no_direction_and_none_is_missing() -> None:
    content = sheet(full())
    assert column(content, "Wind from")[2] == "calm"
    assert column(content, "Wind speed")[2] == "calm"


def test_times_are_said_at_the_site_whatever_the_offset() -> None:
    document = ordinary()
    document["timing"]["started_at"] = "2026-09-14T16:12:00Z"
    assert fact(sheet(document), "Start")[0] == "09:12"


def test_a_time_on_another_day_is_said_with_its_date() -> None:
    document = ordinary()
    document["timing"]["recorded_at"] = "2026-09-15T08:00:00-07:00"
    assert fact(sheet(document), "Recorded")[0].startswith("Sep 15, 2026, ")


def test_the_code_holds_the_records_address_and_digest() -> None:
    file = signed(ordinary())
    digest = read_record_file(file).digest
    assert sheet(file).code == f"{BASE}records/5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11/#{digest}"


def test_a_mere_document_has_no_code() -> None:
    assert sheet(ordinary()).code == ""


def test_no_incident_and_no_answer_about_incidents_are_told_apart() -> None:
    unasked = ordinary()
    del unasked["incidents"]
    texts = []
    for document in (ordinary(), unasked):
        section = next(one for one in sheet(document).sections if one.title == "Incidents")
        texts.append(section.blocks[0].text)
    assert texts == ["None.", "Not recorded."]


def test_every_wording_has_the_same_blanks_in_both_languages() -> None:
    assert [key for key, one in WORDS.items() if one.blank_names("en") != one.blank_names("es")] == []


def test_the_evidence_of_an_incident_stands_below_it() -> None:
    photo = {"sha256": "cd" * 32, "media_type": "image/jpeg", "bytes": 812345}
    document = ordinary() | {"incidents": [{"kind": "spill", "evidence": [photo]}]}
    section = next(one for one in sheet(document).sections if one.title == "Incidents")
    (row,) = section.blocks[0].rows
    assert row.sentence + row.detail == "1 file(s): cdcdcdcdcdcd…"


def test_a_record_treated_in_part_is_not_said_to_be_not_treated() -> None:
    document = ordinary()
    document["record"] |= {"result": "part-treated", "why": "wind"}
    said = str(sheet(signed(document)))
    assert "Why only in part" in said and "Why not treated" not in said


def test_a_forecast_whose_issue_nobody_noted_says_nothing_of_it() -> None:
    document = ordinary()
    document["weather"]["forecast"] = {"dry_until": "2026-09-15T09:00:00-07:00", "source": "the radio"}
    said = str(sheet(signed(document)))
    assert "the radio" in said and "issued" not in said
