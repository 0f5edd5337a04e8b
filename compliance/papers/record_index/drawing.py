"""The index drawn line by line: however many there are, no more than a page of them is held."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import IO

from babel.dates import format_date
from reportlab.lib.utils import simpleSplit
from reportlab.pdfgen.canvas import Canvas

from compliance.papers.record_index.wording import WORDS
from compliance.papers.speech import Speech
from shared.paper.fonts import BOLD, REGULAR, plain, register_fonts
from shared.paper.pages import BOTTOM, PAPERS, SIDE
from shared.paper.type_scale import GREY, HAIR, RULE

_SIZE, _LEADING, _GAP = 7.6, 9.4, 4.0
_HEADING, _LINES = 15.0, 4
_SHARES = (("number", 0.13), ("day", 0.12), ("site", 0.23), ("products", 0.3), ("files", 0.22))
_TOP = 40.0


@dataclass(frozen=True)
class Line:
    """One version. `state` is holds, void or replaced; without a day or a site they are withheld."""

    number: str
    version: int
    state: str
    day: date | None
    site: str | None
    products: str | None
    files: tuple[str, ...]


def draw(
    out: IO[bytes], lines: Callable[[], Iterable[Line]], versions: int, owner: str, language: str, paper: str
) -> None:
    """Write the index as PDF; `lines` are gone through twice, first to count pages. Same lines, same bytes."""
    register_fonts()
    pages = _Pages(None, owner, language, paper, versions, 0)
    pages.write(lines())
    options = {"pagesize": PAPERS[paper], "invariant": 1, "pageCompression": 1, "lang": language}
    canvas = Canvas(out, initialFontName=REGULAR, **options)
    canvas.setTitle(Speech(language, WORDS).word("title"))
    canvas.setAuthor(owner)
    _Pages(canvas, owner, language, paper, versions, pages.number).write(lines())
    canvas.save()


class _Pages:
    """Lines put on pages one below the other; without a canvas they are only counted."""

    def __init__(
        self, canvas: Canvas | None, owner: str, language: str, paper: str, versions: int, of_all: int
    ) -> None:
        self.canvas, self.owner, self.of_all = canvas, owner, of_all
        self.speech = Speech(language, WORDS)
        self.locale = {"en": "en_US", "es": "es_US"}[language]
        self.width, self.height = PAPERS[paper]
        self.versions, self.number, self.y = versions, 0, 0.0
        self.month: str | None = None

    def write(self, lines: Iterable[Line]) -> None:
        self._begin()
        for line in lines:
            self._line(line)
        self._end()

    def _begin(self) -> None:
        self.number += 1
        self.y = self.height - _TOP
        if self.number == 1:
            lead = self.speech.word("lead", versions=str(self.versions))
            self._text(SIDE, BOLD, 15, self.speech.word("title"))
            self.y -= 14
            self._text(SIDE, REGULAR, 8.5, f"{self.owner}. {lead}"[:170])
            self.y -= 20
        for name, x, _width in self._columns():
            self._text(x, BOLD, 6.8, self.speech.word(name))
        self.y -= 5
        self._rule()
        self.y -= _LEADING

    def _end(self) -> None:
        if self.canvas is None:
            return
        self.canvas.setFillColor(GREY)
        self.canvas.setFont(REGULAR, 7)
        said = self.speech.word("page", page=str(self.number), pages=str(self.of_all))
        self.canvas.drawString(SIDE, BOTTOM - 14, plain(self.owner))
        self.canvas.drawRightString(self.width - SIDE, BOTTOM - 14, plain(said))
        self.canvas.setFillGray(0)
        self.canvas.showPage()

    def _line(self, line: Line) -> None:
        cells = [
            self._split(text, width)
            for text, (_n, _x, width) in zip(self._texts(line), self._columns(), strict=True)
        ]
        tall = max(map(len, cells)) * _LEADING + _GAP
        month = self._month_of(line)
        needed = tall + (_HEADING if month != self.month else 0)
        if self.y - needed < BOTTOM:
            self._end()
            self._begin()
        if month != self.month:
            self._heading(month)
        self._bookmark(f"{line.number}-v{line.version}", f"{line.number} v{line.version}", 1)
        for texts, (_name, x, _width) in zip(cells, self._columns(), strict=True):
            for place, text in enumerate(texts):
                self._text(x, REGULAR, _SIZE, text, place * _LEADING)
        self.y -= tall
        self._rule(_LEADING - 2.5)

    def _texts(self, line: Line) -> Iterator[str]:
        hidden = self.speech.word("withheld")
        yield f"{line.number} v{line.version}\n{self.speech.word(line.state)}"
        yield self.speech.short_date(line.day) or hidden
        yield hidden if line.site is None else line.site
        yield hidden if line.products is None else line.products
        yield "\n".join(line.files)

    def _month_of(self, line: Line) -> str:
        if line.day is None:
            return self.speech.word("no-day")
        return str(format_date(line.day, "LLLL yyyy", locale=self.locale))

    def _heading(self, month: str) -> None:
        self.month = month
        self.y -= 3
        self._bookmark(f"month-{month}", month, 0)
        self._text(SIDE, BOLD, 9, month)
        self.y -= _HEADING - 3

    def _bookmark(self, key: str, title: str, level: int) -> None:
        if self.canvas is not None:
            self.canvas.bookmarkHorizontal(key, 0, self.y + 12)
            self.canvas.addOutlineEntry(title, key, level, closed=level == 0)

    def _text(self, x: float, font: str, size: float, text: str, below: float = 0) -> None:
        if self.canvas is not None:
            self.canvas.setFont(font, size)
            self.canvas.drawString(x, self.y - below, plain(text))

    def _rule(self, above: float = 0) -> None:
        if self.canvas is not None:
            self.canvas.setStrokeColor(RULE)
            self.canvas.setLineWidth(HAIR)
            self.canvas.line(SIDE, self.y + above, self.width - SIDE, self.y + above)

    def _columns(self) -> Iterator[tuple[str, float, float]]:
        x, room = SIDE, self.width - 2 * SIDE
        for name, share in _SHARES:
            yield name, x, room * share - 6
            x += room * share

    def _split(self, text: str, width: float) -> list[str]:
        """So many lines as stand there, the last one ended by … where there are more."""
        found = _wrapped(text, round(width))
        return found if len(found) <= _LINES else [*found[: _LINES - 1], f"{found[_LINES - 1]} …"]


@lru_cache(maxsize=2_000)
def _wrapped(text: str, width: int) -> list[str]:
    return simpleSplit(text, REGULAR, _SIZE, width) or [""]
