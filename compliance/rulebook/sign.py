"""A posted sign: its least size, which is judged, and its look, which is for the paper that prints it."""

import re
from dataclasses import dataclass
from fractions import Fraction

from compliance.rulebook.contents import CODES
from compliance.rulebook.reading import Params, as_text, as_wording, as_yes_no, each, one_of, quantity
from shared.quantities import Quantity, compare, from_fraction
from shared.wording import Wording

_POINTS = re.compile(r"([1-9][0-9]{0,2}) pt")
SIGN_CODES = (*CODES, "take_down")
"""What a sign's line may be filled in with; `take_down` is the day from which the sign may come down."""

_POINTS_AN_INCH = 72
"""A point is 1/72 inch in typesetting by computer: common practice, no source."""


@dataclass(frozen=True)
class Size:
    """Least width and height; `either_way`: the sign may be turned."""

    width: Quantity
    height: Quantity
    either_way: bool

    def say(self, language: str) -> str:
        """`5 in × 4 in`."""
        return f"{self.width.say(language)} × {self.height.say(language)}"

    def fits(self, width: Quantity, height: Quantity) -> bool:
        ways = [(width, height), (height, width)][: 1 + self.either_way]
        return any(compare(w, self.width) >= 0 and compare(h, self.height) >= 0 for w, h in ways)


@dataclass(frozen=True)
class Line:
    """One line: words as the law prints them, or (`says`) what is filled in; least height of its letters.

    `code`: what is filled in; `form`: the words around it, with codes as blanks; `back`: it stands on the back.
    """

    words: str | None
    says: Wording | None
    letters: Quantity | None
    bold: bool
    code: str = "other"
    form: str | None = None
    back: bool = False


@dataclass(frozen=True)
class Sign:
    """Colours, material, symbol and lines of a sign, from the top."""

    ground: Wording | None
    print: Wording | None
    material: Wording | None
    symbol: Wording | None
    symbol_size: Quantity | None
    only_these_words: bool
    lines: tuple[Line, ...]


def read_sign(params: Params, raw: object) -> Sign:
    """The `sign` of a posting. Raises RuleError."""
    part = params.inner(raw)
    sign = Sign(
        part.maybe("ground", as_wording),
        part.maybe("print", as_wording),
        part.maybe("material", as_wording),
        part.maybe("symbol", as_wording),
        part.maybe("symbol_size", quantity("length")),
        part.maybe("only_these_words", as_yes_no) or False,
        part.maybe("lines", each(lambda line: _read_line(part.inner(line)))) or (),
    )
    part.done()
    return sign


def read_size(part: Params) -> Size:
    length = quantity("length")
    size = Size(
        part.value("width", length),
        part.value("height", length),
        part.maybe("either_way", as_yes_no) or False,
    )
    part.done()
    return size


def _read_line(part: Params) -> Line:
    form = part.which("words", "says")
    line = Line(
        part.value(form, as_text) if form == "words" else None,
        part.value(form, as_wording) if form == "says" else None,
        part.maybe("letters", _letters),
        part.maybe("bold", as_yes_no) or False,
        (part.maybe("is", one_of(SIGN_CODES)) or "other") if form == "says" else "other",
        part.maybe("form", _form) if form == "says" else None,
        part.maybe("back", as_yes_no) or False,
    )
    part.done()
    return line


def _form(raw: object) -> str:
    """Words with codes as blanks: `by {firm}`."""
    text = as_text(raw)
    for code in re.findall(r"\{([^{}]*)\}", text):
        one_of(SIGN_CODES)(code)
    return text


def _letters(raw: object) -> Quantity:
    points = _POINTS.fullmatch(as_text(raw))
    if points:
        return from_fraction(Fraction(int(points[1]), _POINTS_AN_INCH), "inch")
    return quantity("length")(raw)
