"""What one looks for is found whatever its accents; what is the same name is another matter."""

import sys
from unicodedata import decomposition

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.folded import folded, sought


@pytest.mark.parametrize("spelled", ["Villaseñor", "villasenor", " VILLASEN\u0303OR ", "VILLASEÑOR"])
def test_a_name_is_sought_with_and_without_its_accents(spelled):
    assert sought(spelled) == "villasenor"


@pytest.mark.parametrize(
    ("written", "as_sought"),
    [
        ("Núñez  Ávila", "nunez avila"), ("Güell", "guell"), ("François", "francois"), ("Đặng", "đang"),
        ("Øster Łąka", "øster łaka"), ("Straße", "strasse"), ("Æ", "æ"), ("ﬁr ½ №", "fir 1⁄2 no"),
        ("´ ¨", "´ ¨"),
    ],
)  # fmt: skip
def test_letters_that_are_no_letter_with_an_accent_stay(written, as_sought):
    assert sought(written) == as_sought


def test_every_letter_that_has_a_case_or_comes_apart_is_folded_once_and_for_all():
    letters = [chr(code) for code in range(sys.maxunicode + 1)]
    moved = [each for each in letters if decomposition(each) or each.casefold() != each]
    once = [sought(f"a{each}b") for each in moved]
    assert len(once) > 5_000
    assert sought("\n".join(once)) == " ".join(once)


@given(st.text())
def test_what_is_folded_stays_so_and_what_is_the_same_name_is_sought_alike(text):
    assert sought(sought(text)) == sought(text)
    assert sought(folded(text)) == sought(text)
    assert bool(sought(text)) == bool(folded(text))


def test_an_accent_makes_another_name():
    assert folded("José Díaz") != folded("Jose Diaz")
