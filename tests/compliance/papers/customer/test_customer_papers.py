"""What the customer is told before and after the work."""

from typing import Any

import pytest

from compliance.papers.customer import CustomerPaper, after, before, draw, text_of
from compliance.papers.customer.wording import WORDS
from records.document.words import WORD_LISTS
from tests.compliance.papers.drawn import overlaps, pages_of, pieces_of
from tests.compliance.papers.drawn import text_of as printed
from tests.compliance.papers.notice.made import LONG_FIRM, crowded, planned
from tests.compliance.papers.pdf import squeezed
from tests.compliance.papers.reading_ease import MOST_WORDS, grade, sentences
from tests.compliance.papers.samples import absurd


def with_features(*kinds: str) -> dict[str, Any]:
    document = planned()
    document["protection"] = []
    document["site"]["features"] = [{"kind": kind, "name": kind} for kind in kinds]
    return document


def everything() -> dict[str, Any]:
    """Four products, a long firm's name, every kind of feature."""
    return crowded() | {
        "site": with_features(*WORD_LISTS["feature_kind"])["site"],
        "protection": [{"step": "ponds-covered"}],
    }


def said(paper: CustomerPaper) -> str:
    return text_of(paper)[1]


def test_before_the_work_the_planned_time_counts() -> None:
    """The example is planned for 09:00 and began at 09:12."""
    assert "Time: about 09:00" in said(before(planned()))


def test_after_the_work_its_own_times_count() -> None:
    assert "Work: 09:12 to 09:47" in said(after(planned()))
    assert "Stay off until: 13:47" in said(after(planned()))


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("pond", "We cover your pond."),
        ("rain-barrel", "We take your rain barrel off the downspout."),
        ("vegetable-garden", "Pick what is ripe in your garden"),
        ("beehive", "Tell the beekeeper."),
        ("play-area", "Take toys off the play area."),
        ("air-intake", "Turn off fans and air units"),
    ],
)
def test_what_is_at_the_site_is_prepared_and_nothing_else(kind: str, words: str) -> None:
    assert words in said(before(with_features(kind)))
    assert words not in said(before(with_features()))


def test_cars_toys_pets_windows_and_laundry_are_always_named() -> None:
    text = said(before(with_features()))
    for word in ("cars", "toys", "pets", "windows", "laundry"):
        assert word in text


def test_what_the_label_says_of_rain_is_told_with_its_product() -> None:
    assert "It should stay dry for 4 h after the work: the label of Sample Moss Wash says so." in said(
        after(planned())
    )
    document = planned()
    document["mixes"][0]["products"][0]["label"]["limits"] = []
    assert "It should stay dry" not in said(after(document))


def test_only_the_growth_that_was_treated_is_spoken_of() -> None:
    text = said(after(planned()))
    assert "Moss turns brown" in text
    assert "Lichen" not in text


def test_without_a_time_of_re_entry_all_must_be_dry() -> None:
    document = planned()
    document["timing"]["reentry_at"] = None
    assert "Stay off until: all is dry" in said(after(document))


def test_a_day_that_was_stood_down_tells_of_no_product() -> None:
    document = planned()
    document["record"] |= {"result": "stood-down", "why": "wind"}
    text = said(after(document))
    assert text.startswith("We did not spray today")
    assert "Reason: wind" in text
    assert "Sample Moss Wash" not in text


@pytest.mark.parametrize("tell", [before, after])
def test_the_customers_papers_read_at_grade_eight_or_lower(tell: Any) -> None:
    text = " ".join(one for part in tell(everything()).parts for one in part.sentences)
    assert grade(text) <= 8, (grade(text), text)


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_sentence_is_longer_than_25_words(language: str) -> None:
    long = [
        words
        for wording in WORDS.values()
        for words in sentences(wording.say(language))
        if len(words) > MOST_WORDS
    ]
    assert not long


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("tell", [before, after])
def test_nothing_is_cut_and_nothing_stands_over_another(tell: Any, language: str, paper: str) -> None:
    content = tell(everything(), language)
    pdf = draw(content, paper)
    words = squeezed(printed(pdf))
    values = [text for line in content.lines for text in (line.label, *line.value.split("\n"))]
    values += [text for part in content.parts for text in (part.heading, *part.sentences)]
    assert [text for text in (LONG_FIRM, *values) if squeezed(text) not in words] == []
    for page in pages_of(pdf):
        pieces = pieces_of(page)
        assert overlaps(pieces) == []
        assert all(one.right <= float(page.mediabox.width) - 20 for one in pieces)


@pytest.mark.parametrize("tell", [before, after])
def test_the_same_treatment_gives_the_same_bytes(tell: Any) -> None:
    assert draw(tell(everything())) == draw(tell(everything()))


@pytest.mark.long
@pytest.mark.parametrize("tell", [before, after])
def test_texts_as_long_as_they_may_be_are_printed(tell: Any) -> None:
    assert len(pages_of(draw(tell(absurd())))) > 3


def test_before_the_work_the_customer_is_told_how_long_to_stay_off() -> None:
    document = planned()
    limits = document["mixes"][0]["products"][0]["label"]["limits"]
    document["mixes"][0]["products"][0]["label"]["limits"] = [
        *(one for one in limits if one["of"] != "reentry"),
        {"of": "reentry", "min": {"value": "2", "unit": "hour"}},
    ]
    assert "Stay off until: 2 h after the work ends" in said(before(document))
    assert "No pase hasta: 2 h después de terminar el trabajo" in said(before(document, "es"))


def test_a_lawn_is_no_stone() -> None:
    document = planned()
    document["surfaces"][0] |= {"kind": "lawn"}
    for language, grass, stone in (("en", "we wet the grass", "stone"), ("es", "mojamos la hierba", "piedra")):
        text = said(before(document, language))
        assert grass in text
        assert stone not in text
