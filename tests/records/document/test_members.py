from collections.abc import Iterator

import pytest

from records.document.context import Context
from records.document.entry import Entry
from records.document.faults import WORDINGS
from records.document.kinds import Text, Time, Word
from records.document.measured import Measured
from records.document.member_labels import member_label
from records.document.members import member_at, members_of
from records.document.types import Part, TreatmentDocument
from records.document.words import LIMIT_DIMENSIONS, WORD_LISTS, label
from shared.quantities import DIMENSIONS
from shared.wording import LANGUAGES


def parts(root: type[Part]) -> Iterator[type[Part]]:
    yield root
    for member in members_of(root).values():
        part = (member.item or member).part
        if part:
            yield from parts(part)


ALL_PARTS = sorted({*parts(TreatmentDocument), *parts(Context)}, key=lambda part: part.__name__)


@pytest.mark.parametrize(
    "path",
    [
        "surfaces[].treated_area",
        "surfaces[0].treated_area",
        "surfaces[0a6c1f5d-2b11-4f7e-9a53-000000000008].treated_area",
    ],
)
def test_a_member_is_found_by_pattern_by_index_and_by_id(path):
    assert member_at(path).kind == Measured(("area",))


def test_a_member_says_what_it_may_hold():
    assert member_at("weather.readings[].at").kind == Time()
    assert member_at("targets[]").kind == Word("target")
    assert member_at("targets").item.kind == Word("target")
    assert member_at("notes").kind == Text(20_000)
    assert member_at("surfaces").has_ids
    assert not member_at("site.features").has_ids
    assert members_of(member_at("timing").part)["pauses"].item


@pytest.mark.parametrize(
    "path",
    ["", "surface", "surfaces.treated_area", "targets[].x", "notes.x", "notes[]", "surfaces[0]]", "a b"],
)
def test_a_path_to_nowhere_is_refused(path):
    with pytest.raises(KeyError):
        member_at(path)


@pytest.mark.parametrize("part", ALL_PARTS, ids=lambda part: part.__name__)
def test_every_member_has_a_name_for_a_person_in_both_languages(part):
    for name in members_of(part):
        for language in LANGUAGES:
            assert member_label(name, language, part).strip()


def test_a_member_is_named_wherever_it_stands():
    assert member_label("surfaces[0].treated_area", "en") == "Treated area"
    assert member_label("weather.readings[].wind_speed", "es") == "Velocidad del viento"
    assert member_label("targets[2]", "en") == "Treated against"
    assert member_label("neighbours[].distance", "en", Context) == "Distance"
    assert member_label("registered_persons[].dwelling", "en", Context) == "Is a dwelling"


def test_every_word_of_every_list_has_a_label_in_both_languages():
    for word_list, words in WORD_LISTS.items():
        for word in words:
            assert all(label(word_list, word, language).strip() for language in LANGUAGES)


def test_every_list_of_words_is_used_by_a_member():
    used = {
        (member.item or member).kind.word_list
        for part in (*ALL_PARTS, Entry)
        for member in members_of(part).values()
        if isinstance((member.item or member).kind, Word)
    }
    assert used == WORD_LISTS.keys()


def test_every_limit_is_measured_in_known_dimensions_but_the_one_that_counts():
    assert WORD_LISTS["limit_quantity"].keys() - LIMIT_DIMENSIONS.keys() == {"applications_per_year"}
    assert all(dimension in DIMENSIONS for names in LIMIT_DIMENSIONS.values() for dimension in names)


def test_each_sentence_of_a_fault_has_the_same_blanks_in_both_languages():
    for wording_id, wording in WORDINGS.items():
        assert wording.blank_names("en") == wording.blank_names("es"), wording_id


@pytest.mark.parametrize(
    ("path", "typed", "value"),
    [
        ("surfaces[].treated_area", "2600 sq ft", {"value": "2600", "unit": "ft**2"}),
        ("mixes[].products[].label.limits[].max", "10 mph", {"value": "10", "unit": "mph"}),
        ("mixes[].products[].label.limits[].max", " 2", "2"),
        ("record.version", " 2 ", 2),
        ("site.indoors", "True", True),
        ("surfaces[].pitch.rise", "6,5", "6.5"),
        ("customer.name", "  A. Marlowe ", "A. Marlowe"),
        ("timing.started_at", "2026-09-14T09:12:00-07:00 ", "2026-09-14T09:12:00-07:00"),
    ],
)
def test_typed_text_is_read_as_the_member_asks(path, typed, value):
    kind = member_at(path).kind
    assert kind.parse(typed) == value
    kind.read(value)
