"""What the cover letter says, from plain facts of what was handed over."""

from collections.abc import Iterator
from dataclasses import dataclass

from compliance.papers.cover.handed import Handed, Late, Since
from compliance.papers.cover.wording import WORDS
from compliance.papers.speech import Speech, joined


@dataclass(frozen=True)
class Part:
    heading: str
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class CoverLetter:
    language: str
    firm: str
    address: tuple[str, ...]
    day: str
    to: tuple[str, ...]
    title: str
    opening: tuple[str, ...]
    parts: tuple[Part, ...]
    root: str
    where_title: str
    where: tuple[tuple[str, str], ...]
    closing: tuple[str, ...]
    caution: str
    page_words: str
    is_short: bool


def content_of(handed: Handed, language: str) -> CoverLetter:
    speech = Speech(language, WORDS)
    return CoverLetter(
        language=language,
        firm=handed.firm,
        address=handed.address,
        day=speech.long_date(handed.day),
        to=tuple(each for each in (handed.to, handed.contact) if each),
        title=speech.word("subject" if handed.treatments else "nothing/subject"),
        opening=tuple(_opening(handed, speech)),
        parts=tuple(_parts(handed, speech)),
        root=handed.log_root,
        where_title=speech.word("where"),
        where=tuple((place, speech.word(f"where/{place}")) for place in handed.places),
        closing=(speech.word("for", firm=handed.firm), handed.by),
        caution=speech.word("foot"),
        page_words=WORDS["page"].say(language),
        is_short=not handed.treatments,
    )


def _opening(handed: Handed, speech: Speech) -> Iterator[str]:
    if handed.reference:
        yield speech.word("your-number", number=handed.reference)
    when = f"{speech.long_date(handed.received.date())}, {handed.received:%H:%M}"
    yield speech.word("received", when=when, means=speech.word(f"means/{handed.means}"))
    if handed.paragraph:
        yield speech.word("under", paragraph=handed.paragraph)
    if handed.asked_for:
        yield speech.word("asked-for", words=handed.asked_for)
    if handed.treatments:
        boxes = _boxes(handed, speech)
        yield speech.word("searched", boxes=boxes) if boxes else speech.word("searched-all")


def _boxes(handed: Handed, speech: Speech) -> str:
    return "; ".join(f"{box}: {written or speech.word('not-said')}" for box, written in handed.searched)


def _parts(handed: Handed, speech: Speech) -> Iterator[Part]:
    yield from _records(handed, speech) if handed.treatments else _nothing(handed, speech)
    for late in handed.late:
        yield Part(speech.word(late.what), tuple(_late(late, speech)))
    if handed.since:
        title = speech.word("since", when=speech.long_date(handed.since.at))
        yield Part(title, tuple(_since(handed.since, speech)))
    log = speech.word("log", size=str(handed.log_size))
    how = speech.word("check-how" if handed.treatments else "nothing/check-how")
    yield Part(speech.word("check"), (how, speech.word("check-key"), log))


def _nothing(handed: Handed, speech: Speech) -> Iterator[Part]:
    """What was searched, when, and that nothing fits: no claim beyond that."""
    when = f"{speech.long_date(handed.at.date())}, {handed.at:%H:%M}"
    boxes = _boxes(handed, speech) or speech.word("nothing/all")
    searched = speech.word("nothing/searched", when=when, boxes=boxes)
    fits, enclosed = speech.word("nothing/fits"), speech.word("nothing/enclosed")
    yield Part(speech.word("nothing/found"), (searched, f"{fits} {enclosed}", *_erased(handed, speech)))
    if handed.drafts or handed.brought_in:
        yield Part(speech.word("not-in-it"), tuple(_not_in_it(handed, speech)))


def _erased(handed: Handed, speech: Speech) -> Iterator[str]:
    if handed.erased:
        yield speech.word("nothing/erased", count=str(handed.erased))


def _records(handed: Handed, speech: Speech) -> Iterator[Part]:
    yield Part(speech.word("enclosed"), tuple(_enclosed(handed, speech)))
    left_out = speech.word("left-out-these", parts=joined(handed.withheld)) if handed.withheld else ""
    yield Part(speech.word("left-out"), (left_out or speech.word("nothing-left-out"), speech.word("no-prints")))
    if handed.drafts or handed.brought_in:
        yield Part(speech.word("not-in-it"), tuple(_not_in_it(handed, speech)))


def _enclosed(handed: Handed, speech: Speech) -> Iterator[str]:
    span = speech.word("no-span")
    if handed.first and handed.last:
        span = speech.word("span", first=speech.long_date(handed.first), last=speech.long_date(handed.last))
    yield speech.word("count", treatments=str(handed.treatments), versions=str(handed.versions), span=span)
    yield speech.word("replaced", count=str(handed.replaced)) if handed.replaced else speech.word("all-hold")
    languages = joined(speech.word(f"language/{each}") for each in handed.sheets)
    yield speech.word("sheets", languages=languages) if languages else speech.word("no-sheets")
    yield speech.word(handed.photos)
    if handed.no_notices:
        yield speech.word("notices-withheld")
    yield speech.word("findings" if handed.findings else "facts-only")


def _not_in_it(handed: Handed, speech: Speech) -> Iterator[str]:
    if handed.drafts:
        yield speech.word("drafts" if handed.treatments else "nothing/drafts", count=str(handed.drafts))
    if handed.brought_in:
        yield speech.word("brought-in", count=str(handed.brought_in))


def _late(late: Late, speech: Speech) -> Iterator[str]:
    for each in late.named:
        when = f"{speech.short_date(each.at.date())}, {each.at:%H:%M}"
        said = {"number": each.number, "version": str(each.version), "when": when, "reason": each.reason or "–"}
        if late.what == "followed":
            said["kind"] = speech.listed("follow_up_kind", each.kind)
        told = speech.word("voided-one" if each.kind == "void" else f"{late.what}-one", **said)
        yield told if each.fits_still else f"{told.removesuffix('.')}. {speech.word('fits-no-more')}"
    if late.more:
        yield speech.word("late-more", count=str(late.more))


def _since(since: Since, speech: Speech) -> Iterator[str]:
    counts = {name: str(getattr(since, name)) for name in ("new", "versions", "follow_ups", "gone")}
    yield speech.word("since-counts", **counts, digest=since.digest)
    if since.withheld:
        yield speech.word("since-left-out", parts=joined(since.withheld))
