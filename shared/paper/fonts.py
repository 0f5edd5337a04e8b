"""The embedded fonts, and text made fit for them.

Noto Sans covers Latin with all accents, Greek and Cyrillic; DejaVu Sans Mono sets digests and lends
the signs that Noto Sans lacks. Licences: `fonts/OFL.txt`, `fonts/DEJAVU.txt`.
"""

from functools import cache
from itertools import groupby
from pathlib import Path
from xml.sax.saxutils import escape

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "PaperSans"
BOLD = "PaperSans-Bold"
MONO = "PaperMono"

_FILES = {REGULAR: "NotoSans-Regular.ttf", BOLD: "NotoSans-Bold.ttf", MONO: "DejaVuSansMono.ttf"}
_FOLDER = Path(__file__).parent / "fonts"


@cache
def register_fonts() -> None:
    """Make the fonts known to reportlab, once in a process."""
    for name, file in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(_FOLDER / file)))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)


@cache
def _glyphs(font: str) -> frozenset[int]:
    register_fonts()
    return frozenset(pdfmetrics.getFont(font).face.charToGlyph)


def _source(character: str) -> str:
    """Which font shows this character: `sans`, `mono`, or `none`."""
    code = ord(character)
    if character.isspace() or code in _glyphs(REGULAR):
        return "sans"
    return "mono" if character.isprintable() and code in _glyphs(MONO) else "none"


def legible(text: str) -> str:
    """`text` as reportlab markup in which every character can be seen.

    Line ends become `<br/>`. A character that no embedded font has stands as `[U+4E2D]`, so that
    nothing typed disappears from a record without a trace.
    """
    parts = []
    for source, run in groupby(text.replace("\r\n", "\n"), key=_source):
        characters = "".join(run)
        if source == "none":
            characters = "".join(f"[U+{ord(character):04X}]" for character in characters)
        markup = escape(characters).replace("\n", "<br/>")
        parts.append(f'<font name="{MONO}">{markup}</font>' if source == "mono" else markup)
    return "".join(parts)


def plain(text: str) -> str:
    """`text` for a place that is drawn without markup: one line, only characters of `REGULAR`."""
    shown = (character if _source(character) == "sans" else "?" for character in " ".join(text.split()))
    return "".join(shown)
