"""A label's English words in a Spanish text: read as English by who listens to the page."""

import pytest

from records.quoted_labels import label_language, quoted
from records.templatetags.notice_text import notice_text


def test_words_in_the_language_of_the_text_are_no_quote() -> None:
    assert quoted("Keep out.", "en", "en") == "Keep out."


def test_english_words_in_a_spanish_text_are_marked_for_eyes_and_ears() -> None:
    text = f"Qué hacer: {quoted('Keep people & pets “off” <b>.', 'en', 'es')}\nDónde: aquí"
    page = notice_text(text)
    assert "(en inglés, como en la etiqueta)" in page
    assert '“<span lang="en">Keep people &amp; pets ‘off’ &lt;b&gt;.</span>”<br>Dónde: aquí' in page


@pytest.mark.parametrize(
    ("places", "language"), [(["us-ny", "us"], "en"), (["au-nsw"], "en"), (["de"], ""), ([], "")]
)
def test_only_where_english_is_the_language_of_labels_a_label_is_called_english(
    places: list[str], language: str
) -> None:
    """40 CFR 156.10(a)(3), from memory: all required text of a label is in English in the United States."""
    assert label_language(places) == language


def test_words_whose_language_is_not_known_are_called_the_labels_own() -> None:
    assert quoted("Nicht betreten.", "", "en") == "(as on the label) “Nicht betreten.”"
    assert '<span lang="en">' not in notice_text(quoted("Nicht betreten.", "", "es"))
