"""Sentences with named blanks, in every language."""

import pytest

from shared.quantities import DIMENSIONS, WORDINGS, Quantity
from shared.wording import LANGUAGES, Wording, fill, say

CATALOGUE = {"got": Wording("got {amount} from {who}", "se recibió {amount} de {who}")}


def test_blanks_are_filled_with_text_and_with_what_can_say_itself():
    blanks = {"amount": Quantity("30", "day"), "who": "{who}"}

    assert say(CATALOGUE, "got", blanks, "en") == "got 30 days from {who}"
    assert say(CATALOGUE, "got", blanks, "es") == "se recibió 30 días de {who}"


def test_a_missing_blank_is_an_error():
    with pytest.raises(KeyError):
        fill(CATALOGUE["got"], {"who": "R. Osei"}, "en")


def test_a_language_that_is_not_spoken_is_an_error():
    with pytest.raises(KeyError, match="no such language: fr"):
        CATALOGUE["got"].say("fr")


def test_the_names_of_blanks_are_known():
    assert CATALOGUE["got"].blank_names("es") == {"amount", "who"}


@pytest.mark.parametrize(
    "wording", [*WORDINGS.values(), *DIMENSIONS.values()], ids=lambda wording: wording.en
)
def test_a_sentence_about_quantities_has_the_same_blanks_in_every_language(wording):
    assert len({wording.blank_names(language) for language in LANGUAGES}) == 1
    assert wording.en != wording.es
