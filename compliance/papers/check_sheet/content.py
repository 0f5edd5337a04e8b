"""What the check sheet says: a stored check (`stored-check/1`) as plain data in one language.

Everything is taken from the stored check's own sentences; no rule is evaluated again.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from compliance.papers.check_sheet.findings import finding_sections, limits, sign_of_all
from compliance.papers.check_sheet.wording import WORDS
from compliance.papers.parts import grid
from compliance.papers.speech import Speech, joined
from records.document.member_labels import member_label
from shared.paper import Block, Code, Column, Fact, Furniture, Note, Row, Section, SectionedPaper

StoredCheck = Mapping[str, Any]


@dataclass(frozen=True)
class CheckSubject:
    """The record that was checked, as far as the sheet names it; `answers` as in `signed-record/1`."""

    firm: str = ""
    number: str = ""
    version: str = "1"
    signed: bool = False
    answers: tuple[Mapping[str, Any], ...] = ()


def content_of(check: StoredCheck, subject: CheckSubject, language: str) -> SectionedPaper:
    """The check sheet of one stored check."""
    speech = Speech(language, WORDS)
    return SectionedPaper(
        title=speech.word("title"),
        firm=subject.firm,
        head=(
            Fact(speech.word("outcome"), speech.word(f"sign/{sign_of_all(check)}")),
            Fact(speech.word("number"), joined((subject.number or "–", subject.version), " · ")),
            Fact(speech.word("on"), speech.long_date(check.get("on")) or "–"),
            Fact(speech.word("engine"), str(check.get("engine") or "–")),
        ),
        below=(Note("", speech.word("lead")),),
        sections=tuple(_sections(check, subject, speech)),
        furniture=_furniture(check, subject, speech),
    )


def _furniture(check: StoredCheck, subject: CheckSubject, speech: Speech) -> Furniture:
    names = {"number": subject.number or "–", "version": subject.version}
    described = speech.word("subject", **names)
    return Furniture(
        title=f"{speech.word('title')} – {described}",
        author=subject.firm,
        subject=described,
        language=speech.language,
        identity=speech.word("identity", **names, digest=check["document"]),
        caution=speech.word("foot"),
        page_words=speech.word("page"),
        stamp="" if subject.signed else speech.word("not-signed"),
    )


def _sections(check: StoredCheck, subject: CheckSubject, speech: Speech) -> Iterable[Section]:
    findings = check.get("findings") or ()
    if not findings:
        yield Section(speech.word("finding"), (Note(speech.word("no-findings")),))
    yield from finding_sections(findings, subject.answers, speech)
    if subject.answers:
        yield _answers(subject.answers, speech)
    if check.get("limits"):
        yield limits(check["limits"], speech)
    yield _not_checked(check, speech)
    yield _packs(check.get("packs") or (), speech)
    yield _digests(check, speech)


_ANSWER_COLUMNS = (Column("answer-rule", 4), Column("answer-about", 4), Column("answer-reason", 8))


def _answers(answers: Sequence[Mapping[str, Any]], speech: Speech) -> Section:
    rows = [
        Row((one.get("rule") or "", _members(one.get("about"), speech), one.get("reason") or ""))
        for one in answers
    ]
    return Section(speech.word("answers"), (grid(speech, _ANSWER_COLUMNS, rows),))


def _members(about: str | Sequence[str] | None, speech: Speech) -> str:
    """The members that an answer is about, each named for a person, with its path."""
    paths = [about] if isinstance(about, str) else about or ()
    return joined(_member(path, speech) for path in paths)


def _member(path: str, speech: Speech) -> str:
    try:
        return f"{member_label(path, speech.language)} ({path})"
    except KeyError:
        return path


def _not_checked(check: StoredCheck, speech: Speech) -> Section:
    """Places without a pack, rules left out, open questions: no false all-clear."""
    blocks: list[Block] = []
    if check.get("not_covered"):
        places = joined(place.upper() for place in check["not_covered"])
        blocks.append(Note(places, speech.word("not-covered")))
    blocks += [Note("• " + one[speech.language]) for one in check.get("not_checked") or ()]
    for question in check.get("questions") or ():
        whom = speech.word("ask-whom", whom=question["ask_whom"][speech.language])
        text = joined((question["asks"][speech.language], whom), " – ")
        blocks.append(Note(text, joined((speech.word("questions"), question["id"]), ": ")))
    return Section(speech.word("not-checked"), tuple(blocks) or (Note(speech.word("nothing-known")),))


_PACK_COLUMNS = (Column("pack", 8), Column("pack-version", 3), Column("reviewed", 6))


def _packs(packs: Sequence[Mapping[str, Any]], speech: Speech) -> Section:
    rows = [_pack_row(pack, speech) for pack in packs]
    blocks = (grid(speech, _PACK_COLUMNS, rows),) if rows else (Note("–"),)
    return Section(speech.word("packs"), blocks)


def _pack_row(pack: Mapping[str, Any], speech: Speech) -> Row:
    title = joined((pack["pack"], (pack.get("title") or {}).get(speech.language)), ": ")
    review = pack.get("reviewed") or {}
    means = review.get("by_means") and speech.word(f"means/{review['by_means']}")
    reviewed = joined((speech.long_date(review.get("on")), means))
    caution = (pack.get("caution") or {}).get(speech.language, "")
    return Row((title, str(pack.get("version") or ""), reviewed), caution)


def _digests(check: StoredCheck, speech: Speech) -> Section:
    codes = [Code(speech.word("document-digest"), check["document"])]
    if isinstance(check.get("context"), str):
        codes.append(Code(speech.word("context-digest"), check["context"]))
    for pack in check.get("packs") or ():
        if pack.get("digest"):
            codes.append(Code(speech.word("pack-digest", pack=pack["pack"]), pack["digest"]))
    return Section(speech.word("digests"), tuple(codes))
