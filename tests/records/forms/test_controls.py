"""What is typed into a control, and what it says of it."""

import pytest
from django.http import QueryDict
from django.utils.translation import override

from records.forms.compass import Compass
from records.forms.controls import Amounts, Measure, NoneOfThem, SomeOf, YesNo, typed_in
from records.forms.moment import Moment

AREA = Measure(("area",), "ft**2")
SITE_TIME = Moment("America/Los_Angeles", "2026-09-14")
MIX = Measure(("volume",), "gal")


@pytest.mark.parametrize(
    ("number", "unit", "value"),
    [
        ("2600", "ft**2", {"value": "2600", "unit": "ft**2"}),
        (" 12,5 ", "m**2", {"value": "12.5", "unit": "m**2"}),
        ("240 m²", "ft**2", {"value": "240", "unit": "m**2"}),
        ("", "ft**2", None),
        ("a lot", "ft**2", {"value": "a lot", "unit": "ft**2"}),
    ],
)
def test_a_quantity_is_read_as_a_person_means_it(number, unit, value):
    assert AREA.read((number, unit)) == value


@pytest.mark.parametrize(
    ("language", "number", "value"),
    [
        ("en", "1.500", {"value": "1.500", "unit": "gal"}),
        ("es", "1.5", {"value": "1.5", "unit": "gal"}),
        ("es", "1500", {"value": "1500", "unit": "gal"}),
        ("es", "1.500", {"value": "1.500 ", "unit": "gal"}),
    ],
)
def test_a_point_before_three_digits_is_asked_about_where_it_can_part_thousands(language, number, value):
    with override(language):
        assert MIX.read((number, "gal")) == value


def test_the_question_about_a_point_names_both_meanings_in_digits_that_are_not_asked_about_again():
    with override("es"):
        assert MIX.sentence(("1.500", "gal")) == "1.500 puede significar 1500 o 1,5; escriba uno de los dos"
        assert MIX.sentence(("1.342", "gal")) == "1.342 puede significar 1342 o 1,3420; escriba uno de los dos"
        assert MIX.sentence(("1,3420", "gal")) == ""


def test_a_sentence_about_what_was_typed_names_units_as_people_write_them():
    assert AREA.sentence(("a lot", "ft**2")).startswith("a lot does not begin with a number")
    assert "ft²" in AREA.sentence(("5 gl", "ft**2"))
    assert "**" not in AREA.sentence(("5 gl", "ft**2")) + AREA.sentence(("a lot", "ft**2"))


@pytest.mark.parametrize(
    ("typed", "shown", "differs"),
    [
        (("1342 m2", "ft**2"), ("1342", "m**2"), True),
        (("1342", "ft**2"), ("1342", "ft**2"), False),
        (("", "m**2"), ("", "ft**2"), False),
    ],
)
def test_a_unit_typed_behind_the_number_is_told_from_the_chosen_one(typed, shown, differs):
    assert AREA.is_in_other_unit(typed, shown) is differs


def test_one_tick_says_of_a_list_that_there_is_none():
    control = NoneOfThem("Nobody was told")
    assert control.read(control.shown([])) == []
    assert control.read(control.shown(None)) is None


def test_what_is_no_quantity_is_shown_again_as_typed_with_a_sentence():
    typed = ("a lot", "m**2")
    assert AREA.shown(AREA.read(typed)) == typed
    assert AREA.sentence(typed)
    assert AREA.sentence(("2600", "ft**2")) == ""


@pytest.mark.parametrize(
    ("day", "time", "value"),
    [
        ("2026-09-14", "09:12", "2026-09-14T09:12:00-07:00"),
        ("2026-12-14", "09:12", "2026-12-14T09:12:00-08:00"),
        ("2026-09-14", "", None),
        ("", "", None),
        ("2026-09-15", "", "2026-09-15 "),
    ],
)
def test_a_moment_has_the_offset_of_the_site(day, time, value):
    assert SITE_TIME.read((day, time)) == value


def test_half_a_moment_is_kept_and_asked_for_whole():
    assert SITE_TIME.shown(SITE_TIME.read(("2026-09-15", ""))) == ("2026-09-15", "")
    assert SITE_TIME.sentence(("2026-09-15", "")) == "Enter both the day and the time."


def test_a_sentence_of_the_document_says_its_moments_as_a_person_does():
    sentence = "the finish 2026-09-14T09:00:00-07:00 is before the start 2026-09-14T16:12:30Z"
    said = SITE_TIME.spoken(sentence)
    assert said == "the finish Sept. 14, 2026, 09:00 is before the start Sept. 14, 2026, 09:12:30"


def test_a_moment_with_another_offset_is_shown_in_the_time_of_the_site():
    assert SITE_TIME.shown("2026-09-14T16:12:00Z") == ("2026-09-14", "09:12")


def test_no_tick_at_all_is_not_an_answer():
    assert SomeOf((("moss", "moss"),)).read(()) is None


def test_no_is_an_answer():
    assert [YesNo().read((typed,)) for typed in ("true", "false", "")] == [True, False, None]


def test_a_bearing_between_the_points_of_the_compass_stays_a_choice():
    assert ("200", "200°") in Compass().offered(Compass().shown({"value": "200", "unit": "degree"}))


def test_amounts_keep_what_else_an_item_says():
    item = {"surface": "Roof", "started_at": "2026-09-14T09:12:00-07:00"}
    amounts = Amounts("surface", "applied", (("Roof", "Roof"), ("Walk", "Walk")), MIX, (item,))
    read = amounts.read(("14", "gal", "", "gal"))
    assert read == [{**item, "applied": {"value": "14", "unit": "gal"}}]


def test_a_control_that_was_not_on_the_page_was_not_emptied():
    assert typed_in(AREA, "surfaces[1].treated_area", QueryDict("")) is None
    posted = QueryDict("was:x=[]&v:x=1&u:x=ft**2")
    assert typed_in(AREA, "x", posted) == ("1", "ft**2")
