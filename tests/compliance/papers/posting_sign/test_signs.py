"""Each posting rule of the packs: its sign measured in the PDF, the law named beside each.

Letters are measured as capitals: the height of a font's capitals, as the font states it, times its size. A
law's points are taken as the height of the letters, which is the stricter reading.
"""

import json
from typing import Any, NamedTuple

import pytest
from reportlab.pdfbase import pdfmetrics

from compliance.pack_reader import registered_packs
from compliance.papers.posting_sign import print_sign, sign_of
from compliance.rulebook.kinds.posting import Posting
from tests.compliance.papers.drawn import Piece, overlaps, pieces_of
from tests.compliance.papers.notice.made import LONG_FIRM, LONG_NAME, planned
from tests.compliance.papers.pdf import squeezed
from tests.compliance.papers.posting_sign.measured import Measured, measured, pages_of

INCH = 72.0
YELLOW, WHITE, RED, BLACK = (1.0, 0.9, 0.0), (1.0, 1.0, 1.0), (0.8, 0.0, 0.0), (0.0, 0.0, 0.0)


class Law(NamedTuple):
    """What one law asks of its sign; lengths in inches."""

    rule: str
    width: float
    height: float
    ground: tuple[float, ...] = WHITE
    ink: tuple[float, ...] = BLACK
    symbol: float = 0
    letters: tuple[tuple[str, float], ...] = ()
    filled: tuple[str, ...] = ()


LAWS = (
    # RCW 17.21.410(1); WAC 16-228-1322: 4 x 5 in, contrasting colour.
    Law("us-wa/posting/marker", 5, 4, letters=(("THIS LANDSCAPE HAS BEEN TREATED BY", 0.01),
        ("FOR MORE INFORMATION PLEASE CALL", 0.01)), filled=("Quillfeather Exterior Care", "+1 360 555 0100")),
    # ECL 33-1003: 4 x 5 in, letters of 3/8 in; 6 NYCRR 325.40(f): yellow and black, symbol of 1.5 in.
    Law("us-ny/posting/markers", 5, 4, YELLOW, BLACK, 1.5, (("PESTICIDE APPLICATION", 0.375),
        ("DO NOT ENTER", 0.375), ("DO NOT REMOVE SIGN FOR 24 HOURS", 0.375)), ("Date:", "Time:")),
    # Wis. Admin. Code ATCP 29.56(4): 4 x 5 in, red on white.
    Law("us-wi/posting/landscape", 5, 4, WHITE, RED, filled=("May be taken down on:",)),
    # Wis. Admin. Code ATCP 29.55(4): 8 1/2 x 11 in.
    Law("us-wi/posting/restricted-entry", 8.5, 11),
    # COMAR 15.05.01.15 B: 5 in wide, 4 in high, yellow and black; the back in 18 points.
    Law("us-md/posting/lawn", 5, 4, YELLOW, BLACK, 0, (("CAUTION", 0.01), ("PESTICIDE APPLICATION", 0.01),
        ("KEEP OFF", 0.01), ("CUSTOMER: PLEASE REMOVE AFTER 48 HOURS", 0.01))),
    # R.C.S.A. 22a-66a-1(b)(7)(A): 4 x 5 in, black on bright yellow, 36 and 12 points, circle of 2 in.
    Law("us-ct/posting/sign", 5, 4, YELLOW, BLACK, 2, (("PESTICIDE APPLICATION", 0.5),
        ("Pesticide applied on ____________________ by Quillfeather Exterior Care +1 360 555 0100", 1 / 6),
        ("This sign must remain for 24 hours after pesticide application", 1 / 6))),
    # N.J.A.C. 7:30-9.13(e): white, dark print, half an inch, picture of 2 in.
    Law("us-nj/posting/turf", 5, 4, WHITE, BLACK, 2, (("Pesticide Treated Area", 0.5),),
        ("Quillfeather Exterior Care", "+1 360 555 0100")),
    # C.R.S. 35-10-112(2)(c): 4 x 5 in, black on bright yellow, 60, 24 and 18 points, symbol of 2 in.
    Law("us-co/posting/sign", 5, 4, YELLOW, BLACK, 2, (("WARNING", 60 / 72), ("PESTICIDES APPLIED", 24 / 72),
        ("R. Osei", 18 / 72)), ("Date:", "Sample Moss Wash")),
    # F.S. 482.2265, as extension restates it: business, brand, safety information, date and time, applicator.
    Law("us-fl/posting/lawn", 0, 0, letters=(("R. Osei", 0.01),),
        filled=("Quillfeather Exterior Care", "Sample Moss Wash", "Safety information:", "Date:", "Time:")),
    # Pesticides Regulation 2017 (NSW), cl 47(1).
    Law("au-nsw/posting/residents", 0, 0, letters=(("Sample Moss Wash", 0.01),),
        filled=("against moss on: roof", "Date:", "4 Heron Row", "+1 360 555 0100")),
)  # fmt: skip


def posting_of(name: str) -> tuple[Posting, str]:
    (rule,) = [rule for pack in registered_packs() for rule in pack.rules if rule.id == name]
    duty = rule.all_duties[-1]
    assert isinstance(duty.kind, Posting)
    return duty.kind, duty.cite


def sheets(name: str, document: dict[str, Any] | None = None, **how: str) -> list[tuple[Measured, list[Piece]]]:
    """Each face of the sign, measured; with the text that stands within its frame."""
    kind, cite = posting_of(name)
    pdf = print_sign(
        sign_of(kind, cite, document or planned(), how.get("language", "en")), how.get("paper", "letter")
    )
    return [(measured(page), _within(page)) for page in pages_of(pdf)]


def _within(page: Any) -> list[Piece]:
    x, y, width, height, _ = measured(page).boxes[0]
    return [one for one in pieces_of(page) if y <= one.y <= y + height and x <= one.x <= x + width]


def capitals(piece: Piece) -> float:
    """The height of its capitals, in inches."""
    return piece.size * pdfmetrics.getFont(piece.font).face.capHeight / 1000 / INCH


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("law", LAWS, ids=[one.rule for one in LAWS])
def test_a_sign_is_as_its_law_asks(law: Law, paper: str) -> None:
    drawn, pieces = sheets(law.rule, paper=paper)[0]
    _, _, width, height, ground = drawn.boxes[0]
    assert width >= law.width * INCH - 0.01
    assert height >= law.height * INCH - 0.01
    assert ground == law.ground
    if pieces:
        assert law.ink in drawn.text_colours
    if law.symbol:
        assert max(drawn.rings) == pytest.approx(law.symbol * INCH, abs=0.5)
    said = squeezed("".join(one.text for one in pieces))
    for words, letters in law.letters:
        assert squeezed(words) in said
        rows = [one for one in pieces if squeezed(one.text) in squeezed(words) and one.text in words]
        assert rows, pieces
        assert min(capitals(one) for one in rows) >= letters - 0.001
    assert [text for text in law.filled if squeezed(text) not in said] == []


def test_no_posting_rule_of_the_packs_is_left_out_here() -> None:
    asked = {
        rule.id
        for pack in registered_packs()
        for rule in pack.rules
        for duty in rule.all_duties
        if isinstance(duty.kind, Posting)
    }
    assert asked == {one.rule for one in LAWS}


def test_connecticut_wants_no_other_words_on_its_sign() -> None:
    """R.C.S.A. 22a-66a-1(b)(7)(A), restated: no other text."""
    _, pieces = sheets("us-ct/posting/sign")[0]
    law = next(one for one in LAWS if one.rule == "us-ct/posting/sign")
    assert squeezed("".join(one.text for one in pieces)) == squeezed("".join(words for words, _ in law.letters))


def test_a_connecticut_sign_has_bold_headline_letters() -> None:
    _, pieces = sheets("us-ct/posting/sign")[0]
    headline = [one for one in pieces if one.text in "PESTICIDE APPLICATION"]
    assert {one.font for one in headline} == {"PaperSans-Bold"}


def test_the_back_of_the_maryland_sign_has_date_name_and_telephone_in_18_points() -> None:
    """COMAR 15.05.01.15 B."""
    front, (drawn, pieces) = sheets("us-md/posting/lawn")
    assert drawn.boxes[0][2:4] == front[0].boxes[0][2:4]
    said = [one.text for one in pieces]
    assert said[0].startswith("Date: ___")
    assert said[1:] == ["Quillfeather Exterior Care", "+1 360 555 0100"]
    assert min(capitals(one) for one in pieces) >= 0.25 - 0.001


@pytest.mark.parametrize("law", LAWS, ids=[one.rule for one in LAWS])
def test_each_sheet_can_be_measured(law: Law) -> None:
    """100 mm and 4 in, by 25.4 mm to the inch (exact since 1959: from memory)."""
    for drawn, _ in sheets(law.rule):
        assert any(abs(length - 100 / 25.4 * INCH) < 0.01 for length in drawn.lines)
        assert any(abs(length - 4 * INCH) < 0.01 for length in drawn.lines)


@pytest.mark.parametrize("law", LAWS, ids=[one.rule for one in LAWS])
@pytest.mark.parametrize("language", ["en", "es"])
def test_long_names_stay_within_the_frame_and_the_sheet(law: Law, language: str) -> None:
    document = planned()
    document["firm"]["name"] = LONG_FIRM
    document["people"].append({"name": LONG_NAME, "role": "applicator"})
    kind, cite = posting_of(law.rule)
    for page in pages_of(print_sign(sign_of(kind, cite, document, language))):
        x, y, width, height, _ = measured(page).boxes[0]
        everything = pieces_of(page)
        assert overlaps(everything) == []
        assert all(one.right <= x + width for one in _within(page))
        assert x >= 0 and x + width <= float(page.mediabox.width)
        assert y >= 0 and y + height <= float(page.mediabox.height)
        assert all(one.y > 15 and one.right < float(page.mediabox.width) - 15 for one in everything)


def test_a_form_of_the_law_that_is_not_known_is_said_to_be_missing() -> None:
    kind, cite = posting_of("us-wi/posting/landscape")
    beside = " ".join(sign_of(kind, cite, planned()).beside)
    assert "Do not post this page alone" in beside
    assert "Appendix B" in beside


def test_the_same_sign_gives_the_same_bytes() -> None:
    kind, cite = posting_of("us-ny/posting/markers")
    first, second = (print_sign(sign_of(kind, cite, json.dumps(planned()))) for _ in range(2))
    assert first == second
