"""What the register had of a version is read from the sections that a search asks for, and is as of all."""

import json
from collections import namedtuple
from dataclasses import fields
from datetime import date

import pytest

from records.document.days import treatment_day
from records.document.reader import read
from records.document.section_lines import lines_of
from records.register import terms
from records.register.fitting import EXACT, NAMES, Held, fits
from records.register.terms import strongest_wind, terms_of
from records.register.wanted import RegisterFilter
from records.register_before import COLUMNS, held_by
from shared.quantities import Quantity
from tests.compliance.patched import load

EXAMPLES = ("example", "full", "metric", "stood-down")
DAY = date(2020, 1, 1)
Version = namedtuple("Version", COLUMNS)


def whole(document: dict) -> Held:
    """Of the document read strictly, all of it."""
    stated = read(document)
    day = treatment_day(stated) or DAY
    return Held("N-1", day, "signed", "met", strongest_wind(stated), terms_of(stated))


def version(document: dict) -> Version:
    sections = {name: part for name, part in document.items() if name != "record"}
    lines = lines_of(sections, dict.fromkeys(sections, ""))
    return Version("v", "t", "signed", json.dumps({"record": document["record"]}).encode(), lines, "N-1", DAY)


def asked(held: Held) -> list[RegisterFilter]:
    """One for each part of a search that the version fits, and one that it does not."""
    found = [RegisterFilter(day_from=held.day), RegisterFilter(day_to=held.day), RegisterFilter(state="signed")]
    for member, kinds in {**NAMES, **EXACT, "words": terms.IN_WORDS}.items():
        named = sorted(term.folded for term in held.terms if term.kind in kinds)
        found += [RegisterFilter(**{member: each}) for each in (*named[:1], *named[-1:], "no such thing")]
    speeds = (Quantity("0", "mph"), Quantity("8", "mph"), Quantity("90", "mph"))
    found += [RegisterFilter(wind_least=each) for each in speeds]
    return [*found, *(RegisterFilter(wind_most=each) for each in speeds)]


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_part_of_the_document_answers_as_all_of_it_does(name):
    document = load(f"documents/{name}.json")
    held = whole(document)
    answers = set()
    for wanted in asked(held):
        found = fits(held_by(version(document), wanted, "met", ()), wanted)
        assert found == fits(held, wanted), wanted
        answers.add(found)
    assert answers == {True, False}


def test_every_part_of_a_search_is_tried():
    every = [each for name in EXAMPLES for each in asked(whole(load(f"documents/{name}.json")))]
    tried = {name for each in every for name in each.as_json()}
    assert tried == {each.name for each in fields(RegisterFilter)} - {"outcome"}
