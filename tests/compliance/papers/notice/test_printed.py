"""Letters and door cards as they are printed: nothing is cut or over another, the window shows whom."""

import pytest

from compliance.papers.notice import Reader, content_of, door_cards, email, letters
from compliance.papers.notice.content import NoticeContent, Terms
from compliance.papers.notice.letter import WINDOWS
from tests.compliance.papers.drawn import overlaps, pages_of, pieces_of, text_of
from tests.compliance.papers.notice.made import (
    LONG_ADDRESS,
    LONG_NAME,
    NEIGHBOUR,
    UNTIL,
    crowded,
    crowded_notice,
    planned,
    to_neighbours,
)
from tests.compliance.papers.pdf import squeezed
from tests.compliance.papers.samples import absurd

PAPERS = ("letter", "a4")


def short(language: str, walk: int) -> NoticeContent:
    reader = Reader("neighbour", f"Reader {walk}", (f"{walk} Heron Row", "Port Quill, NY 13900"), walk)
    return content_of(planned(), reader, Terms(languages=(language,)), UNTIL)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("draw", [letters, door_cards], ids=["letters", "door cards"])
def test_nothing_is_cut_and_nothing_stands_over_another(draw: object, paper: str) -> None:
    content = crowded_notice()
    pdf = draw([content], paper)  # type: ignore[operator]
    printed = squeezed(text_of(pdf))
    for side in content.sides:
        said = (side.title, side.greeting, side.opening, *side.statements, *side.closing)
        values = [text for line in side.lines for text in (line.label, *line.value.split("\n"))]
        assert [text for text in (*said, *values) if squeezed(text) not in printed] == []
    for page in pages_of(pdf):
        pieces = pieces_of(page)
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        assert [one.text for one in pieces if one.right > width - 15 or not 15 < one.y < height - 15] == []
        assert overlaps(pieces) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_the_window_shows_the_reader_and_nothing_else(paper: str) -> None:
    """Where the windows lie is stated in `letter.WINDOWS`, with its source."""
    window = WINDOWS[paper]
    first = pages_of(letters([crowded_notice()], paper))[0]
    top = float(first.mediabox.height) - window.top
    inside = [
        piece
        for piece in pieces_of(first)
        if top - window.height < piece.y + piece.size * 0.7
        and piece.y < top
        and piece.x < window.left + window.width
    ]
    assert squeezed("".join(one.text for one in inside)) == squeezed("".join((LONG_NAME, *LONG_ADDRESS)))
    assert all(window.left <= one.x and one.right <= window.left + window.width for one in inside)
    assert all(top - window.height <= one.y and one.y + one.size * 0.8 <= top for one in inside)


def test_letters_lie_in_walking_order_each_on_pages_of_its_own() -> None:
    pages = [
        page.extract_text() for page in pages_of(letters([short("en", 3), short("es", 1), short("en", 2)]))
    ]
    begun = [place for place, text in enumerate(pages) if "Heron Row\nPort" in text and "Reader" in text]
    assert [pages[place][pages[place].index("Reader") + 7] for place in begun] == ["1", "2", "3"]


def test_two_cards_of_one_language_share_a_sheet() -> None:
    assert len(pages_of(door_cards([short("en", walk) for walk in (1, 2, 3)]))) == 2


def test_where_a_law_prints_a_statement_no_type_is_below_twelve_points() -> None:
    """6 NYCRR 325.41 as Erie County restates it: lettering of at least 12 points."""
    for pdf in (letters([to_neighbours()]), door_cards([to_neighbours()])):
        statement = [
            piece.size
            for page in pages_of(pdf)
            for piece in pieces_of(page)
            if "pending pesticide application" in piece.text or "próxima aplicación" in piece.text
        ]
        assert statement
        assert min(statement) >= 12


@pytest.mark.parametrize("draw", [letters, door_cards])
def test_the_same_notices_give_the_same_bytes(draw: object) -> None:
    first, second = (draw([to_neighbours(), crowded_notice()]) for _ in range(2))  # type: ignore[operator]
    assert first == second


def test_a_law_that_wants_nothing_else_gets_no_letterhead() -> None:
    bare = content_of(planned(), NEIGHBOUR, Terms(nothing_else=True))
    assert "Quillfeather" not in text_of(letters([bare])) + text_of(door_cards([bare])) + email(bare)[1]


def test_a_short_address_shows_wherever_the_sheet_lies_in_the_envelope() -> None:
    """4 1/8 in less the sheet's third of 3 2/3 in is how far it can slide up: 0.458 in."""
    window = WINDOWS["letter"]
    first = pages_of(letters([to_neighbours()]))[0]
    address = [
        one for one in pieces_of(first) if one.text in ("B. Lark", "6 Heron Row", "Port Quill, NY 13900")
    ]
    assert len(address) == 3
    height = float(first.mediabox.height)
    assert all(height - window.top - 0.458 * 72 >= one.y + one.size * 0.75 for one in address)
    assert all(height - window.top - window.height <= one.y - one.size * 0.25 for one in address)


def test_a_letter_in_two_languages_is_one_sheet_printed_on_both_sides() -> None:
    assert len(pages_of(letters([to_neighbours()]))) == 2


@pytest.mark.long
@pytest.mark.parametrize("draw", [letters, door_cards])
def test_texts_as_long_as_they_may_be_are_printed(draw: object) -> None:
    reader = Reader("neighbour", "W" * 1990, ("x y " * 400,) * 4)
    assert len(pages_of(draw([to_neighbours(absurd(), reader)]))) > 10  # type: ignore[operator]


@pytest.mark.parametrize("paper", PAPERS)
def test_a_letter_has_no_page_that_holds_its_number_alone(paper: str) -> None:
    numbered = ("Page 2 / Página 2", "Page 3 / Página 3", "Page 4 / Página 4")
    for name in ("B. Lark", LONG_NAME, LONG_NAME * 2):
        content = to_neighbours(planned(), Reader("neighbour", name, LONG_ADDRESS, 2))
        pages = [page.extract_text().strip() for page in pages_of(letters([content], paper))]
        assert [text for text in pages if text in numbered] == []


def test_a_last_page_of_a_letter_says_more_than_the_firms_own_words() -> None:
    own = {"en": "We park on the street.", "es": "Estacionamos en la calle."}
    last = pages_of(letters([to_neighbours(own_words=own)]))[-1].extract_text()
    assert "Cierre las ventanas" in last


def test_each_sheet_of_a_door_card_says_whose_it_is_and_no_sheet_holds_the_own_words_alone() -> None:
    own = {"en": "We park on the street.", "es": "Estacionamos en la calle."}
    content = to_neighbours(crowded(), Reader("neighbour", LONG_NAME * 2, LONG_ADDRESS, 2), own_words=own)
    sheets = [page.extract_text() for page in pages_of(door_cards([content]))]
    titles = ("Notice of a pesticide treatment", "Aviso de un tratamiento con pesticida")
    assert len(sheets) == 3
    assert [text for text in sheets if not any(title in text for title in titles)] == []
    assert [text for text in sheets if LONG_ADDRESS[0] not in text] == []
    assert "Página 2" in sheets[-1]
    assert "Cierre las ventanas" in sheets[-1]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", [LONG_NAME, LONG_NAME * 2])
def test_the_address_in_the_window_is_never_smaller_than_ten_points_and_never_cut(
    paper: str, name: str
) -> None:
    content = to_neighbours(planned(), Reader("neighbour", name, LONG_ADDRESS, 2))
    first = pieces_of(pages_of(letters([content], paper))[0])
    shown = [
        one for one in first if any(one.text.strip() and one.text.strip() in text for text in LONG_ADDRESS)
    ]
    assert squeezed("".join(LONG_ADDRESS)) in squeezed("".join(one.text for one in shown))
    assert min(one.size for one in shown) >= 10


@pytest.mark.parametrize("paper", PAPERS)
def test_no_word_of_a_label_is_broken_on_half_a_sheet(paper: str) -> None:
    """The longest one, of the poison center in Spanish."""
    printed = " ".join(page.extract_text() for page in pages_of(door_cards([short("es", 1)], paper)))
    assert "intoxicaciones" in printed.partition("1-800-222-1222")[0]
