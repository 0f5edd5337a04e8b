from copy import deepcopy

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.document import working
from records.document.edits import MOST_EDITS, AppliedEdit, Edit, Outcome, apply
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.working import MOST_UNREAD
from tests.records.document.documents import changed, document

ROOF = "0a6c1f5d-2b11-4f7e-9a53-000000000008"
WALK = "0a6c1f5d-2b11-4f7e-9a53-000000000009"
READING = "0a6c1f5d-2b11-4f7e-9a53-000000000013"
NEW = "0a6c1f5d-2b11-4f7e-9a53-0000000000ff"


def edit(path: str, value: object, base: int = 1, edit_id: str | None = None) -> Edit:
    return Edit(edit_id or f"{path}={value}@{base}", path, value, base)


def edited(*edits: Edit, of: dict | None = None, log: tuple[AppliedEdit, ...] = (), unread=None) -> Outcome:
    """The full document at revision 1 (or after the log) with the edits."""
    revision = max((entry.revision for entry in log), default=1)
    return apply(of or document("full"), revision, log, edits, unread)


def after(first: Outcome, *edits: Edit) -> Outcome:
    """The outcome of further edits, with all the first ones in the log."""
    return apply(first.document, first.revision, first.applied, edits, first.unread)


def test_a_member_is_changed_by_its_path_with_ids():
    outcome = edited(edit(f"surfaces[{WALK}].treated_area", {"value": "250", "unit": "ft**2"}))
    assert outcome.document["surfaces"][1]["treated_area"] == {"value": "250", "unit": "ft**2"}
    assert outcome.revision == 2
    assert [entry.revision for entry in outcome.applied] == [2]


def test_what_was_passed_in_stays_as_it_was():
    before = document("full")
    kept = deepcopy(before)
    edited(edit(f"surfaces[{WALK}]", None), edit("notes", "new"), of=before)
    assert before == kept


@pytest.mark.parametrize(
    ("path", "typed", "value"),
    [
        (f"surfaces[{WALK}].treated_area", "250 sq ft", {"value": "250", "unit": "ft**2"}),
        (f"weather.readings[{READING}].wind_speed", "5,5 mph", {"value": "5.5", "unit": "mph"}),
        ("site.indoors", "true", True),
        ("record.version", "3", 3),
        ("notes", "  Dog kept in. ", "Dog kept in."),
        ("targets", ["algae"], ["algae"]),
    ],
)
def test_a_value_as_typed_is_read_as_its_member_asks(path, typed, value):
    outcome = edited(edit(path, typed))
    changed_only = edited(edit(path, value))
    assert outcome.unread == {}
    assert outcome.document == changed_only.document != document("full")


@pytest.mark.parametrize("empty", [None, "", "  "])
def test_an_emptied_field_takes_its_member_out(empty):
    assert "notes" not in edited(edit("notes", empty)).document


def test_taking_out_what_is_not_there_changes_nothing():
    outcome = edited(edit("firm.insurance.cover.value", None), edit("customer.email", None))
    assert edited(edit("customer.email", None), of=outcome.document).document == outcome.document
    bare = {"schema": "treatment-document/1", "record": {}}
    assert edited(edit("weather.forecast.dry_until", None), of=bare).document == bare
    assert edited(edit(f"surfaces[{NEW}]", None)).document["surfaces"] == document("full")["surfaces"]


def test_objects_on_the_way_are_made():
    bare = {"schema": "treatment-document/1", "record": {}}
    outcome = edited(edit("weather.forecast.dry_until", "2026-09-15T12:00:00-07:00"), of=bare)
    assert outcome.document["weather"] == {"forecast": {"dry_until": "2026-09-15T12:00:00-07:00"}}


def test_an_item_is_added_under_a_new_id_and_filled_member_by_member():
    outcome = edited(
        edit(f"weather.readings[{NEW}]", {"at": "2026-09-14T09:40:00-07:00", "sky": None}),
        edit(f"weather.readings[{NEW}].wind_speed", "6 mph"),
    )
    assert outcome.document["weather"]["readings"][-1] == {
        "id": NEW,
        "at": "2026-09-14T09:40:00-07:00",
        "wind_speed": {"value": "6", "unit": "mph"},
    }


def test_an_item_is_replaced_and_taken_out_by_its_id():
    replaced = edited(edit(f"surfaces[{WALK}]", {"name": "Front walk", "kind": "walk"})).document
    assert replaced["surfaces"][1] == {"id": WALK, "name": "Front walk", "kind": "walk"}
    assert [step["step"] for step in document("full")["protection"]] == [
        "downspouts-diverted",
        "storm-drains-covered",
    ]
    step = document("full")["protection"][0]["id"]
    assert [s["step"] for s in edited(edit(f"protection[{step}]", None)).document["protection"]] == [
        "storm-drains-covered"
    ]


def test_items_that_carry_no_id_go_by_their_place():
    outcome = edited(
        edit("site.features[0].distance", "30 ft"),
        edit("site.features[2]", {"kind": "pond", "name": "duck pond"}),
        edit(f"mixes[{document('full')['mixes'][0]['id']}].loads[1]", None),
    )
    assert outcome.document["site"]["features"][0]["distance"] == {"value": "30", "unit": "ft"}
    assert outcome.document["site"]["features"][2]["name"] == "duck pond"
    assert len(outcome.document["mixes"][0]["loads"]) == 1
    assert outcome.unread == {}


def test_an_edit_that_comes_again_changes_nothing():
    first = edited(edit("notes", "one"))
    again = after(first, edit("notes", "one"), edit("notes", "one"))
    assert again == Outcome(first.document, first.revision, [], [], {})


def test_one_edit_that_comes_twice_in_one_sending_counts_once():
    assert len(edited(edit("notes", "one"), edit("notes", "one")).applied) == 1


def test_two_phones_that_edit_different_members_both_get_their_way():
    first = edited(edit(f"surfaces[{WALK}].treated_area", "250 sq ft"))
    second = after(first, edit(f"surfaces[{WALK}].material", "brick"), edit("notes", "two"))
    assert second.conflicts == []
    assert second.document["surfaces"][1]["material"] == "brick"
    assert second.document["surfaces"][1]["treated_area"]["value"] == "250"


def test_two_phones_that_add_to_one_list_both_get_their_item():
    first = edited(edit(f"weather.readings[{NEW}]", {"sky": "clear"}))
    other = NEW.replace("ff", "fe")
    second = after(first, edit(f"weather.readings[{other}]", {"sky": "fog"}))
    assert [item["id"] for item in second.document["weather"]["readings"][-2:]] == [NEW, other]


def test_two_phones_that_change_one_member_keep_both_values():
    first = edited(edit("notes", "from the roof"))
    second = after(first, edit("notes", "from the ground"))
    (conflict,) = second.conflicts
    assert (conflict.current, conflict.edit.value, conflict.changed_in) == (
        "from the roof",
        "from the ground",
        2,
    )
    assert second.document == first.document
    assert second.applied == []


def test_a_conflict_is_settled_by_an_edit_made_on_what_is_there_now():
    first = edited(edit("notes", "from the roof"))
    settled = after(first, edit("notes", "from the ground", base=first.revision))
    assert settled.conflicts == []
    assert settled.document["notes"] == "from the ground"


def test_two_phones_that_say_the_same_do_not_conflict():
    first = edited(edit("mixes", []), edit("notes", "dry"))
    assert after(first, Edit("other", "notes", " dry", 1)).conflicts == []


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (edit(f"surfaces[{ROOF}]", None), edit(f"surfaces[{ROOF}].material", "tile")),
        (edit("weather.forecast", {"source": "radio"}), edit("weather.forecast.source", "a neighbour")),
        (edit("site.features[0]", None), edit("site.features[1].distance", "3 ft")),
        (edit("targets", ["moss"]), edit("targets", ["lichen"])),
    ],
    ids=lambda made: made.path,
)
def test_a_change_within_what_another_changed_is_a_conflict_both_ways(one, other):
    whole = {**document("full"), "mixes": [], "protection": []}
    assert len(after(edited(one, of=whole), other).conflicts) == 1
    assert len(after(edited(other, of=whole), one).conflicts) == 1


def test_a_list_is_not_touched_by_a_change_of_one_of_another_name():
    first = edited(edit("timing.reentry_at", "2026-09-14T15:00:00-07:00"))
    assert after(first, edit("timing.planned_at", "2026-09-14T08:00:00-07:00")).conflicts == []


def test_ones_own_edits_do_not_conflict_when_the_answer_to_the_first_was_lost():
    first = edited(edit("notes", "w", edit_id="a"))
    resent = after(first, edit("notes", "w", edit_id="a"), edit("notes", "windy", edit_id="b"))
    assert resent.conflicts == []
    assert resent.document["notes"] == "windy"


UNREADABLE = [
    (f"surfaces[{WALK}].treated_area", "250 gal", "expected an area, got 250 gal"),
    (f"surfaces[{WALK}].treated_area", "250", "250 has no unit; the units for an area are"),
    (f"surfaces[{WALK}].kind", "path", "expected one of roof, gutter, walk,"),
    ("timing.started_at", "nine", "expected a time such as"),
    ("record.version", "two", "expected a whole number"),
    ("surfaces", "all", "expected a list"),
    ("weather.readings[7].sky", "fog", "there is no item 7 in readings"),
    ("site.features[9]", {"kind": "pond"}, "there is no item 9 in features"),
    (f"surfaces[{NEW}].material", "tile", f"there is no item {NEW} in surfaces"),
    (f"surfaces[{WALK}]", {"id": ROOF}, f"the item's id {ROOF} is not the id in the path"),
    ("surfaces[0].material", "tile", "there is no item 0 in surfaces"),
    ("record", None, "this must be there"),
    ("notes", "x" * 20_001, "expected at most 20000 characters, got 20001"),
]


@pytest.mark.parametrize(
    ("path", "typed", "message"), UNREADABLE, ids=[message[:40] for *_, message in UNREADABLE]
)
def test_a_value_that_cannot_be_read_is_kept_as_typed_and_the_member_keeps_its_old_value(
    path, typed, message
):
    outcome = edited(edit(path, typed))
    assert outcome.document == document("full")
    (kept,) = outcome.unread.values()
    assert kept["value"] == typed
    assert kept["fault"]["en"].startswith(message)
    assert kept["fault"]["es"] != kept["fault"]["en"]
    assert outcome.conflicts == []
    assert len(outcome.applied) == 1


REFUSED = [
    ("notes", "x" * 10_000_000, "notes: this is 10000002 bytes; at most 1048576 bytes are read"),
    ("notes", "x" * 30_000, "notes: expected at most 20000 characters, got 30000"),
    ("surfaces", "x" * 30_000, 'surfaces: expected a list, got "xxx'),
    ("notes", "half \ud800", "notes: this text holds half of a character"),
    ("surfaces", [{"name": "\ud800"}], "surfaces[0].name: this text holds half of a character"),
    ("notes", "zero \0", "notes: this text holds a control character (U+0000)"),
    ("notes", float("nan"), "notes: NaN is not a JSON value"),
    ("colour", "red", 'document: "colour" is not the path of a member'),
    ("__proto__", "red", 'document: "__proto__" is not the path of a member'),
    ("firm .name", "red", 'document: "firm .name" is not the path of a member'),
    ("[0]", "red", 'document: "[0]" is not the path of a member'),
    ("surfaces[²].name", "red", 'document: "surfaces[²].name" is not the path of a member'),
    ("surfaces[\ud800]", {}, 'document: "surfaces[\\ud800]" is not the path of a member'),
    ("a." * 5000, "red", 'document: "a.a.'),
]


@pytest.mark.parametrize(("path", "value", "message"), REFUSED, ids=[said[:50] for *_, said in REFUSED])
def test_what_could_not_even_be_kept_is_refused_in_words_and_nothing_is_done(path, value, message):
    with pytest.raises(DocumentFaults) as refused:
        edited(edit("site.county", "King"), Edit("e", path, value, 1))
    (fault,) = refused.value.faults
    assert fault.say("en").startswith(message)
    assert fault.say("es") != fault.say("en")


def test_a_value_nested_without_end_is_refused():
    deep: object = "x"
    for _ in range(5000):
        deep = [deep]
    with pytest.raises(DocumentFaults, match="nested more than 20 levels deep"):
        edited(Edit("deep", "notes", deep, 1))


def test_more_edits_than_are_taken_at_once_are_refused():
    edits = [Edit(str(number), "notes", "x", 1) for number in range(MOST_EDITS + 1)]
    assert len(edited(*edits[:-1]).applied) == MOST_EDITS
    with pytest.raises(DocumentFaults, match="these are 201 edits; at most 200 are taken at once"):
        edited(*edits)


def test_no_more_is_kept_unread_than_a_person_could_look_through():
    bad = [edit(f"site.features[{number}].name", "tap") for number in range(2, 2 + MOST_UNREAD + 1)]
    full = edited(*bad[1:])
    assert len(full.unread) == MOST_UNREAD
    with pytest.raises(DocumentFaults, match="50 entries could not be read already"):
        after(full, edit("site.features[99].name", "tap", base=full.revision))
    assert len(after(full, edit("notes", "x", base=full.revision)).unread) == MOST_UNREAD


def test_what_is_unread_of_an_item_that_is_gone_can_be_taken_out():
    lost = edited(edit(f"surfaces[{NEW}].material", "tile"))
    assert after(lost, edit(f"surfaces[{NEW}].material", None, base=lost.revision)).unread == {}


def readings_of(monkeypatch) -> list[object]:
    read_already: list[object] = []
    reading = working.read
    monkeypatch.setattr(working, "read", lambda document: read_already.append(1) or reading(document))
    return read_already


def test_a_long_batch_that_fits_is_read_once(monkeypatch):
    readings = readings_of(monkeypatch)
    outcome = edited(*(edit(f"weather.readings[{READING}].wind_speed", f"{n} mph") for n in range(150)))
    assert len(outcome.applied) == 150
    assert len(readings) == 1


def test_in_a_long_batch_what_does_not_fit_is_found_by_halving(monkeypatch):
    readings = readings_of(monkeypatch)
    good = [edit("notes", f"note {number}") for number in range(127)]
    bad = edit(f"weather.readings[{READING}].by", "nobody")
    outcome = edited(*good[:90], bad, *good[90:])
    assert list(outcome.unread) == [bad.path]
    assert outcome.document["notes"] == "note 126"
    assert [entry.id for entry in outcome.applied] == [each.id for each in (*good[:90], bad, *good[90:])]
    assert len(readings) < 40


def test_names_that_change_places_in_one_batch_keep_their_own_references():
    full = document("full")
    first, second = (surface["name"] for surface in full["surfaces"][:2])
    swapped = edited(
        edit(f"surfaces[{WALK}].name", first), edit(f"surfaces[{ROOF}].name", second), of=full
    )
    one_by_one = edited(edit(f"surfaces[{WALK}].name", first), of=full)
    one_by_one = after(one_by_one, edit(f"surfaces[{ROOF}].name", second))
    assert (swapped.document, swapped.unread) == (one_by_one.document, one_by_one.unread)


def test_what_was_kept_unread_is_dropped_when_the_member_is_typed_anew_or_taken_out():
    unread = edited(edit(f"surfaces[{WALK}].treated_area", "250 gal"))
    path = f"surfaces[{WALK}].treated_area"
    assert after(unread, edit(path, "250 sq ft", base=2)).unread == {}
    assert after(unread, edit(path, "", base=2)).unread == {}
    mixes_first = after(unread, edit("mixes", [], base=2))
    assert after(mixes_first, edit(f"surfaces[{WALK}]", None, base=3)).unread == {}


def test_what_was_kept_unread_stays_when_something_else_is_edited():
    unread = edited(edit(f"surfaces[{WALK}].treated_area", "250 gal"))
    assert after(unread, edit("notes", "x", base=2)).unread == unread.unread


def test_a_working_document_reads_at_every_moment():
    outcome = edited(edit("timing.finished_at", "2026-09-14T09:00:00-07:00"))
    assert read(outcome.document)
    assert "is before the start" in outcome.unread["timing.finished_at"]["fault"]["en"]


def test_a_start_after_the_old_finish_waits_for_the_new_finish():
    start = edited(edit("timing.started_at", "2026-09-14T10:00:00-07:00"))
    assert "timing.started_at" in start.unread
    finish = after(start, edit("timing.finished_at", "2026-09-14T10:30:00-07:00", base=2))
    assert finish.unread == {}
    assert finish.document["timing"]["started_at"] == "2026-09-14T10:00:00-07:00"
    assert finish.document["timing"]["finished_at"] == "2026-09-14T10:30:00-07:00"


def test_a_person_who_is_not_there_is_kept_as_typed_until_that_person_is_added():
    named = edited(edit(f"weather.readings[{READING}].by", "B. Lark"))
    assert 'there is no "B. Lark" in people' in named.unread[f"weather.readings[{READING}].by"]["fault"]["en"]
    added = after(named, edit(f"people[{NEW}]", {"name": "B. Lark", "role": "helper"}, base=2))
    assert added.unread == {}
    assert added.document["weather"]["readings"][0]["by"] == "B. Lark"


def test_a_person_who_is_still_named_cannot_be_taken_out():
    person = document("full")["people"][0]["id"]
    outcome = edited(edit(f"people[{person}]", None))
    assert outcome.document == document("full")
    assert 'there is no "R. Osei" in people' in outcome.unread[f"people[{person}]"]["fault"]["en"]


def test_a_thing_given_another_name_keeps_its_references():
    person, roof = document("full")["people"][1]["id"], f"surfaces[{ROOF}].name"
    outcome = edited(edit(f"people[{person}].name", "Jo Quill"), edit(roof, "North slope"))
    assert outcome.unread == {}
    assert outcome.document["people"][2]["supervised_by"] == "Jo Quill"
    assert outcome.document["weather"]["readings"][1]["by"] == "Jo Quill"
    assert outcome.document["mixes"][0]["surfaces"][0]["surface"] == "North slope"
    pond = edited(edit("site.features[0].name", "inlet by the gate"))
    assert pond.document["protection"][1]["features"] == ["inlet by the gate"]


def test_a_product_that_stands_twice_under_one_id_is_not_guessed_at():
    full = document("full")
    line = full["mixes"][0]["products"][0]
    twice = changed({"mixes[0].products": [line, {**line, "lot": "L-0458"}]}, "full")
    outcome = edited(edit(f"mixes[{full['mixes'][0]['id']}].products[{line['id']}].lot", "L-9"), of=twice)
    (kept,) = outcome.unread.values()
    assert "has two items with the id" in kept["fault"]["en"]


def test_a_document_that_came_with_faults_can_still_be_mended():
    damaged = changed({"targets": ["mos"], "weather": [], "people": {}}, "full")
    outcome = edited(edit("notes", "still works"), edit("weather.forecast.source", "radio"), of=damaged)
    assert outcome.document["notes"] == "still works"
    assert list(outcome.unread) == ["weather.forecast.source"]
    mended = edited(
        edit("targets", ["moss"]), edit(f"people[{NEW}]", {"name": "R. Osei"}), of=outcome.document
    )
    assert mended.document["targets"] == ["moss"]


_PATHS = ["notes", "customer.name", "customer.phone", "site.county", "record.reason", "firm.name"]
_BARE = {"schema": "treatment-document/1", "record": {"number": "1"}}
_SOME_EDITS = st.lists(st.tuples(st.sampled_from(_PATHS), st.sampled_from(["a", "b", ""])), max_size=6)


@given(_SOME_EDITS, _SOME_EDITS)
def test_nothing_that_two_phones_type_is_ever_lost(one, other):
    """Each edit of the second phone is in the document, in a conflict, or was typed over by itself."""
    first = edited(*(Edit(f"one-{n}", path, value, 1) for n, (path, value) in enumerate(one)), of=_BARE)
    second = after(first, *(Edit(f"other-{n}", path, value, 1) for n, (path, value) in enumerate(other)))
    touched = {path for path, _ in one}
    for conflict in second.conflicts:
        assert conflict.edit.path in touched
    settled = {entry.id for entry in second.applied} | {conflict.edit.id for conflict in second.conflicts}
    assert settled == {f"other-{n}" for n in range(len(other))}
    assert second.revision == first.revision + len(second.applied)


@given(_SOME_EDITS)
def test_sending_everything_again_changes_nothing(typed):
    edits = [Edit(str(n), path, value, 1) for n, (path, value) in enumerate(typed)]
    first = edited(*edits, of=_BARE)
    again = after(first, *edits)
    assert (again.document, again.revision, again.applied) == (first.document, first.revision, [])
