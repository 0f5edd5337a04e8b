"""What is in a tank, in words, from the treatment document."""

from records.tanks import labels_on_board, tanks_of
from tests.compliance.patched import load, patched

EXAMPLE = load("documents/example.json")


def test_a_tank_says_how_strong_each_product_is_and_how_much_was_made():
    (tank,) = tanks_of(EXAMPLE, "en")
    assert (tank.made, tank.lines[0].strength, tank.rig["identification"]) == (
        "15 gal",
        "10 %",
        "plate 555-QFX",
    )


def test_a_weight_in_a_volume_of_mix_is_said_as_such():
    weighed = patched(EXAMPLE, {"mixes[0].products[0].amount": {"value": "3", "unit": "lb"}})
    (tank,) = tanks_of(patched(weighed, {"mixes[0].products[0].density": None}), "en")
    assert tank.lines[0].strength == "22.2222 lb/100 gal"


def test_what_can_not_be_worked_out_is_not_said():
    (tank,) = tanks_of(patched(EXAMPLE, {"mixes[0].products[0].amount": None}), "es")
    assert (tank.made, tank.lines[0].strength) == ("", "")


def test_a_product_of_two_tanks_has_its_label_on_board_once():
    mix = EXAMPLE["mixes"][0]
    tanks = tanks_of({**EXAMPLE, "mixes": [mix, mix]}, "en")
    (label,) = labels_on_board(tanks)
    assert label.product["registration_number"] == "99999-12"
    assert "amount" not in label.product


def test_two_versions_of_a_label_are_two_with_different_digests():
    other = patched(EXAMPLE, {"mixes[0].products[0].label.version": "2026-01"})
    first, second = labels_on_board([*tanks_of(EXAMPLE, "en"), *tanks_of(other, "en")])
    assert first.digest != second.digest
    assert not first.of_file


def test_the_digest_of_a_labels_file_is_shown_where_it_is_known():
    known = patched(EXAMPLE, {"mixes[0].products[0].label.digest": f"sha256:{'ab' * 32}"})
    (label,) = labels_on_board(tanks_of(known, "en"))
    assert (label.digest, label.of_file) == (f"sha256:{'ab' * 32}", True)


def test_a_treatment_without_a_mix_has_no_tank():
    assert tanks_of(patched(EXAMPLE, {"mixes": []}), "en") == []
