"""The firm's own words on its notices."""

import pytest
from django.core.exceptions import ValidationError
from django.utils import translation

from compliance.services.notice_words import own_words_of, set_own_words
from records.models import Firm

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm() -> Firm:
    return Firm.objects.create(name="Quillfeather Exterior Care", country="US")


def test_a_firm_has_one_text_in_each_language(firm: Firm) -> None:
    set_own_words(firm, "en", "We park on the street.")
    set_own_words(firm, "es", "Estacionamos en la calle.")
    set_own_words(firm, "en", " We park in the drive. ")
    assert own_words_of(firm) == {"en": "We park in the drive.", "es": "Estacionamos en la calle."}


def test_no_words_take_them_away(firm: Firm) -> None:
    set_own_words(firm, "en", "We park on the street.")
    set_own_words(firm, "en", "")
    assert own_words_of(firm) == {}


def test_another_firm_has_its_own(firm: Firm) -> None:
    other = Firm.objects.create(name="Sample Roofs", country="US")
    set_own_words(firm, "en", "We park on the street.")
    assert own_words_of(other) == {}


@pytest.mark.parametrize(
    ("language", "sentence"), [("en", "Leave out what promises"), ("es", "Quite lo que promete")]
)
def test_a_promise_of_safety_is_refused_in_the_readers_language(
    firm: Firm, language: str, sentence: str
) -> None:
    """40 CFR 156.10(a)(5)(ix)."""
    with translation.override(language), pytest.raises(ValidationError) as caught:
        set_own_words(firm, "en", "It is safe for pets.")
    assert sentence in str(caught.value)
    assert own_words_of(firm) == {}
