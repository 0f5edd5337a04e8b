"""A posting sign as plain data: its words, sizes and colours, and what stands beside it on the sheet."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from compliance.papers.notice.answers import Told, answer, own_label
from compliance.papers.notice.label_words import BLANK
from compliance.papers.notice.wording import WORDS as NOTICE_WORDS
from compliance.papers.posting_sign.wording import WORDS
from compliance.papers.speech import Speech, joined, speech_for
from compliance.rulebook.kinds.posting import Posting
from compliance.rulebook.sign import Line, Sign, Size
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.poison_lines import poison_line
from shared.quantities import UNITS, Quantity
from shared.wording import fill

POINTS_AN_INCH = 72
LETTERS = 0.25 * POINTS_AN_INCH
"""How high capitals are where a law sets no height: common practice, no source."""
LEAST_WIDTH, LEAST_HEIGHT = 5.0 * POINTS_AN_INCH, 4.0 * POINTS_AN_INCH
"""How large a sign is where a law sets no size: common practice, no source."""
_FILLED_BY_HAND = ("date", "time", "take_down")
_LAWS_LANGUAGE = "en"


@dataclass(frozen=True)
class SignLine:
    """One line: `letters` is the height of its capitals in points."""

    text: str
    letters: float
    bold: bool


@dataclass(frozen=True)
class SignContent:
    """A sign: least width and height in points, what stands on front and back, and beside it on the sheet."""

    language: str
    title: str
    width: float
    height: float
    ground: str
    print: str
    symbol: float
    front: tuple[SignLine, ...]
    back: tuple[SignLine, ...]
    beside: tuple[str, ...]
    firm: str


def sign_of(
    kind: Posting, cite: str, document: TreatmentDocument | bytes | str | dict[str, Any], language: str = "en"
) -> SignContent:
    """The sign that a rule in force asks for at this site. Raises DocumentFaults.

    Words stand as the law prints them; `language` is that of the sheet around the sign.
    """
    stated = document if isinstance(document, TreatmentDocument) else read(document)
    sign = kind.sign or Sign(None, None, None, None, None, False, ())
    speech = speech_for(stated, language, WORDS)
    width, height = _least(kind.size)
    return SignContent(
        language=language,
        title=speech.word("title"),
        width=width,
        height=height,
        ground=_colour(sign.ground.en if sign.ground else "", "white"),
        print=_colour(sign.print.en if sign.print else "", "black"),
        symbol=points(sign.symbol_size) if sign.symbol_size else 0,
        front=tuple(_lines(stated, sign, back=False)),
        back=tuple(_lines(stated, sign, back=True)),
        beside=tuple(_beside(kind, sign, cite, speech)),
        firm=(stated.firm and stated.firm.name) or "",
    )


def points(length: Quantity) -> float:
    """A length in points, 72 to the inch."""
    return float(length.exact * UNITS[length.unit].factor / UNITS["inch"].factor * Fraction(POINTS_AN_INCH))


def _least(size: Size | None) -> tuple[float, float]:
    return (points(size.width), points(size.height)) if size else (LEAST_WIDTH, LEAST_HEIGHT)


def _colour(said: str, otherwise: str) -> str:
    """The name of the colour that a law's words mean; black contrasts with every ground that we print."""
    return next((name for name in ("yellow", "white", "red", "black") if name in said), otherwise)


def _lines(document: TreatmentDocument, sign: Sign, *, back: bool) -> Iterable[SignLine]:
    for line in sign.lines:
        if line.back == back:
            text = line.words or _filled(document, line)
            if text:
                yield SignLine(text, points(line.letters) if line.letters else LETTERS, line.bold)


def _filled(document: TreatmentDocument, line: Line) -> str:
    """What is filled in; '' for a form of the law that is not known."""
    if line.form:
        return re.sub(r"\{(\w+)\}", lambda found: _value(found[1], document) or BLANK, line.form)
    if line.code in _FILLED_BY_HAND:
        return f"{WORDS[line.code].say(_LAWS_LANGUAGE)} {BLANK}"
    if line.code == "other" or not line.says:
        return ""
    label = own_label(line.says, speech_for(document, _LAWS_LANGUAGE, NOTICE_WORDS))
    return _value(line.code, document) or f"{label}: {BLANK}"


def _value(code: str, document: TreatmentDocument) -> str:
    if code in _FILLED_BY_HAND:
        return BLANK
    if code == "firm":
        return (document.firm and document.firm.name) or ""
    told = Told(document, None, None, (), 0, poison_line(document.model_dump(by_alias=True)))
    said = answer(code, told, speech_for(document, _LAWS_LANGUAGE, NOTICE_WORDS))
    return joined(said.split("\n"))


def _beside(kind: Posting, sign: Sign, cite: str, speech: Speech) -> Iterable[str]:
    lacking = [line.says.say(speech.language) for line in sign.lines if line.says and _unknown(line)]
    if lacking:
        yield speech.word("lacks", text=joined(lacking))
    yield speech.word("law", cite=cite)
    named = (("where", kind.place), ("material", sign.material), ("symbol", sign.symbol))
    for name, said in named:
        if said:
            yield fill(WORDS[name], {"text": said}, speech.language)
    if any(line.says for line in sign.lines):
        yield speech.word("ink")
    yield speech.word("cut")


def _unknown(line: Line) -> bool:
    return line.form is None and line.code == "other"
