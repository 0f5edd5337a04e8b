"""The kinds `notice` and `posting` in plain words."""

from collections.abc import Iterator

from compliance.plain_words.points import Point
from compliance.plain_words.teller import Teller
from compliance.rulebook.durations import said_language
from compliance.rulebook.kinds.notice import Notice
from compliance.rulebook.kinds.posting import Posting
from compliance.rulebook.sign import Line
from compliance.rulebook.stay import Stay


def notice(kind: Notice, tell: Teller) -> Iterator[Point]:
    """Who is told, when, how, and what the notice says."""
    yield tell.point("notice/person", whom=kind.said)
    if kind.listed:
        conditions = tell.conditions.of_item(kind.listed.people.text)
        if "whom" in tell.raw:
            yield tell.under("notice/whom", [conditions.point(tell.raw["whom"])])
        if kind.listed.perhaps:
            yield tell.under("notice/perhaps", [conditions.point(tell.raw["perhaps"]["whom"])])
    yield tell.point("notice/when", lead=kind.terms.lead)
    if kind.on_request:
        yield tell.point("notice/on_request")
    yield from _terms(kind, tell)
    if kind.contents:
        yield tell.under("notice/contents", tell.lines(one.said for one in kind.contents))


def _terms(kind: Notice, tell: Teller) -> Iterator[Point]:
    terms = kind.terms
    if terms.earliest:
        yield tell.point("notice/earliest", length=terms.earliest)
    if terms.valid:
        yield tell.point("notice/valid", length=terms.valid)
    if terms.days.alternates is not None:
        form = "notice/alternates" if terms.days.alternates else "notice/stated_day"
        yield tell.point(form, count=str(terms.days.alternates))
    if terms.days.all_of_them:
        yield tell.point("notice/all_alternates", count=str(terms.days.alternates))
    if terms.days.its_day:
        yield tell.point("notice/its_day")
    if terms.means:
        yield tell.point("notice/means", which=tell.listed(terms.known_means[name] for name in terms.means))
    if kind.languages:
        names = [said_language(code) for code in kind.languages]
        yield tell.point("notice/languages", which=tell.listed(names, "and"))


def posting(kind: Posting, tell: Teller) -> Iterator[Point]:
    """How many signs, how large, where, from when and until when they stand, and what they say."""
    yield tell.point("posting", count=str(kind.least))
    if kind.place:
        yield tell.point("posting/place", where=kind.place)
    if kind.size:
        yield tell.point("posting/size", size=kind.size)
    if kind.spacing:
        yield tell.point("posting/spacing", length=kind.spacing)
    yield tell.point("notice/when", lead=kind.lead)
    yield from _stay(kind.stay, tell)
    if kind.sign and kind.sign.lines:
        yield tell.under("posting/sign", [_line(line, tell) for line in kind.sign.lines])


def _stay(stay: Stay, tell: Teller) -> Iterator[Point]:
    if stay.length:
        form = "posting/kept_from_posting" if stay.since == "posting" else "posting/kept"
        yield tell.point(form, length=stay.length)
    elif stay.since == "finish":
        yield tell.point("posting/kept_for_the_work")
    if stay.reentry:
        yield tell.point("posting/or_reentry")
    if stay.in_doubt:
        yield tell.point("posting/in_doubt")


def _line(line: Line, tell: Teller) -> Point:
    if line.says:
        return tell.point("posting/filled_in", words=line.says)
    return Point(line.words or "")
