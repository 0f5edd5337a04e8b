"""Everybody who gets a notice can read it: grade 8 or lower, no sentence over 25 words, in every template."""

from datetime import date
from typing import Any

import pytest

from compliance.papers.notice import Reader, Terms, content_of, email, phone_script
from compliance.papers.notice.content import NoticeContent
from compliance.papers.notice.wording import WORDS
from tests.compliance.papers.notice.made import UNTIL, planned
from tests.compliance.papers.reading_ease import MOST_WORDS, grade, sentences

READERS = ("customer", "occupant", "neighbour", "registered-person", "agency", "school")


def our_words(content: NoticeContent) -> str:
    """What the template says by itself, without names, addresses and what a law prints."""
    (side,) = content.sides
    return " ".join((f"{side.title}.", side.opening, *side.closing))


def notice(to: str, language: str, **terms: Any) -> NoticeContent:
    return content_of(planned(), Reader(to), Terms(languages=(language,), **terms), UNTIL)


@pytest.mark.parametrize("to", READERS)
@pytest.mark.parametrize(
    "terms",
    [
        {},
        {"called_off": True},
        {"replaces": date(2026, 9, 7)},
        {"replaces": date(2026, 9, 7), "on_again": True},
    ],
)
def test_a_notice_reads_at_grade_eight_or_lower(to: str, terms: dict[str, Any]) -> None:
    text = our_words(notice(to, "en", **terms))
    assert grade(text) <= 8, (grade(text), text)


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_sentence_of_a_template_is_longer_than_25_words(language: str) -> None:
    long = [
        words
        for wording in WORDS.values()
        for words in sentences(wording.say(language))
        if len(words) > MOST_WORDS
    ]
    assert not long


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_whole_message_has_no_sentence_that_runs_on(language: str) -> None:
    content = notice("neighbour", language)
    for text in (email(content)[1], phone_script(content)):
        paragraphs = [part for block in text.split("\n\n") for part in block.split("\n")]
        assert all(len(words) <= MOST_WORDS for part in paragraphs for words in sentences(part))


def test_the_grade_is_that_of_the_formula() -> None:
    """Worked by hand: 6 words, 1 sentence, 6 syllables: 2.34 + 11.8 - 15.59; and 'considerable' has 5."""
    assert grade("The cat sat on the mat.") == pytest.approx(-1.45)
    assert grade("Considerable.") == pytest.approx(0.39 + 59 - 15.59)
