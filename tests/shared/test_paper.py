"""Page furniture: text made legible, QR codes, long cells, page counts."""

from io import BytesIO

import pytest
import segno
from pypdf import PdfReader

from shared.paper import (
    PAPERS,
    Code,
    Column,
    Fact,
    Facts,
    Furniture,
    Grid,
    Note,
    Row,
    Section,
    SectionedPaper,
    as_json,
    draw_papers,
)
from shared.paper.fonts import legible, plain
from shared.paper.pages import SIDE
from shared.paper.qr import QUIET_MODULES, QrCode

WIDTH = PAPERS["letter"][0] - 2 * SIDE


def paper(*sections: Section, stamp: str = "", identity: str = "identity", code: str = "") -> SectionedPaper:
    furniture = Furniture(
        "title", "author", "subject", "en", identity, "caution", "page {page} of {pages}", stamp
    )
    return SectionedPaper("Title", "Owner", (Fact("label", "value"),), (), sections, furniture, code)


def printed(*sections: Section, stamp: str = "", identity: str = "identity") -> PdfReader:
    return PdfReader(BytesIO(draw_papers([paper(*sections, stamp=stamp, identity=identity)], "letter")))


class Squares:
    """A canvas that only remembers rectangles."""

    def __init__(self) -> None:
        self.drawn: list[tuple[float, float, float, float]] = []

    def beginPath(self) -> "Squares":
        return self

    def rect(self, x: float, y: float, width: float, height: float) -> None:
        self.drawn.append((x, y, width, height))

    def drawPath(self, path: "Squares", stroke: int, fill: int) -> None:
        assert (stroke, fill) == (0, 1)


def test_a_qr_code_is_drawn_module_for_module() -> None:
    """Against segno's own matrix; the quiet zone of four modules is that of ISO/IEC 18004."""
    text = "https://records.example.net/records/1/#sha256:" + "ab" * 32
    matrix = segno.make(text, error="m", micro=False).matrix
    side = len(matrix) + 2 * QUIET_MODULES
    code = QrCode(text, side)
    code.canv = Squares()
    code.draw()
    dark = {
        (side - 1 - QUIET_MODULES - round(y), round(x) - QUIET_MODULES + step)
        for x, y, width, _height in code.canv.drawn
        for step in range(round(width))
    }
    assert dark == {(r, c) for r, row in enumerate(matrix) for c, module in enumerate(row) if module}


@pytest.mark.parametrize(
    ("typed", "markup"),
    [
        ("a < b & c", "a &lt; b &amp; c"),
        ("one\r\ntwo", "one<br/>two"),
        ("ñ Ő ş ² °", "ñ Ő ş ² °"),
        ("≤ 5", '<font name="PaperMono">≤</font> 5'),
        ("中文", "[U+4E2D][U+6587]"),
        ("a\x07b", "a[U+0007]b"),
    ],
)
def test_every_character_can_be_seen(typed: str, markup: str) -> None:
    assert legible(typed) == markup


def test_a_line_without_markup_holds_only_what_its_font_has() -> None:
    assert plain("one\n two ≤ 中") == "one two ? ?"


def test_long_text_is_begun_in_its_cell_and_given_whole_below() -> None:
    long = " ".join(f"word{number}" for number in range(300))
    grid = Grid((Column("a"), Column("b", numeric=True)), (Row((long, "1")), Row(("short", "2"))))
    text = "".join(page.extract_text() for page in printed(Section("Section", (grid,))).pages)
    assert "(1)" in text
    assert all(f"word{number}" in text for number in range(300))


def test_a_word_wider_than_the_page_is_broken_not_cut() -> None:
    pdf = printed(Section("Section", (Note("W" * 2000), Facts((Fact("label", "M" * 2000),)))))
    text = "".join(page.extract_text() for page in pdf.pages)
    assert text.count("W") >= 2000
    assert text.count("M") >= 2000


def test_pages_are_counted_and_stamped() -> None:
    pages = printed(Section("Section", (Note("words " * 9000),)), stamp="STAMP").pages
    assert len(pages) > 2
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page.extract_text()
        assert "STAMP" in page.extract_text()


def test_a_footer_too_long_for_its_line_is_ended_visibly() -> None:
    text = printed(Section("Section", (Note("x"),)), identity="long " * 200).pages[0].extract_text()
    assert "…\ncaution" in text


def test_content_as_json_names_the_shape_of_each_block() -> None:
    section = Section("Title", (Code("digest", "sha256:00"), Facts((Fact("label", "value"),), columns=2)))
    assert as_json(section) == {
        "title": "Title",
        "blocks": [
            {"shape": "Code", "label": "digest", "text": "sha256:00"},
            {
                "shape": "Facts",
                "facts": [{"label": "label", "value": "value", "beside": "", "span": 1}],
                "columns": 2,
            },
        ],
    }


def test_each_of_several_papers_begins_on_a_page_of_its_own() -> None:
    short = [paper(Section("Begun", (Note(word),))) for word in ("first", "second")]
    pages = PdfReader(BytesIO(draw_papers(short, "a4"))).pages
    assert ["first" in page.extract_text() for page in pages] == [True, False]
    assert "second" in pages[1].extract_text()
