"""What a posted sign must look like, for the paper that prints it: never judged from a record."""

import re
from dataclasses import dataclass
from fractions import Fraction

from compliance.rulebook.reading import Params, as_text, as_wording, as_yes_no, each, quantity
from shared.quantities import Quantity, from_fraction
from shared.wording import Wording

_POINTS = re.compile(r"([1-9][0-9]{0,2}) pt")
_POINTS_AN_INCH = 72
"""A point is 1/72 inch in typesetting by computer: common practice, no source."""


@dataclass(frozen=True)
class Line:
    """One line: words as the law prints them, or (`says`) what is filled in; least height of its letters."""

    words: str | None
    says: Wording | None
    letters: Quantity | None
    bold: bool


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


def _read_line(part: Params) -> Line:
    form = part.which("words", "says")
    line = Line(
        part.value(form, as_text) if form == "words" else None,
        part.value(form, as_wording) if form == "says" else None,
        part.maybe("letters", _letters),
        part.maybe("bold", as_yes_no) or False,
    )
    part.done()
    return line


def _letters(raw: object) -> Quantity:
    points = _POINTS.fullmatch(as_text(raw))
    if points:
        return from_fraction(Fraction(int(points[1]), _POINTS_AN_INCH), "inch")
    return quantity("length")(raw)
