"""What the record sheet says: a signed record, or a mere document, as plain data in one language."""

from collections.abc import Callable
from dataclasses import replace

from compliance.papers.record_sheet import after, care, conditions, mixes, place, protection, work
from compliance.papers.record_sheet.source import SignedAs, Source
from compliance.papers.record_sheet.wording import WORDS
from compliance.papers.speech import Speech, speech_for
from records.document.types import TreatmentDocument
from shared.paper import Fact, Furniture, Note, Section, SectionedPaper

PAPER_VERSION = "7"
"""Raised when the same record would print differently; the same version prints the same bytes."""

_Part = Callable[[TreatmentDocument, Speech], "tuple[Section, ...] | Section | None"]

PARTS: tuple[tuple[tuple[str, ...], str, _Part], ...] = (
    (("timing",), "work/when", work.when),
    (("customer",), "work/customer", work.customer),
    (("firm",), "work/licensee", work.licensee),
    (("people",), "work/applied-by", work.applied_by),
    (("site", "surfaces", "targets", "permits"), "place/site", place.site),
    (("mixes",), "mix/products", mixes.products),
    (("weather",), "conditions/weather", conditions.weather),
    (("equipment",), "conditions/equipment", conditions.apparatus),
    (("protection", "site"), "care/protection", protection.protection),
    (("notices", "postings"), "care/notices", care.notices),
    (("incidents",), "care/incidents", care.incidents),
    (("notes",), "care/remarks", care.remarks),
)
"""The parts in the order in which a Washington inspector reads the State's form (AGR 4226, version 1):
date and times, for whom, licensed applicator, who applied, site, area, products, wind, temperature,
apparatus, miscellaneous. Each with the sections that it needs and its title."""


def content_of(
    source: Source, language: str, base_address: str, signed_as: SignedAs | None = None
) -> SectionedPaper:
    """The record sheet of a record or document. `base_address` is where the record can be looked up,
    `signed_as` what the sheet says of its own signature as a file, if it gets one."""
    document = source.document
    gone = (source.erased and source.erased.sections) or ()
    speech = speech_for(document, language, WORDS, source.withheld.keys() - gone)
    return SectionedPaper(
        title=_title(source, speech),
        firm=_firm(document, speech),
        head=_head(source, speech),
        below=after.proof(source, speech, signed_as),
        sections=tuple(_sections(source, speech)),
        code=_looked_up_at(source, base_address) if source.signed else "",
        furniture=_furniture(source, speech),
    )


def _firm(document: TreatmentDocument, speech: Speech) -> str:
    hidden = speech.word("head/firm-withheld") if "firm" in speech.withheld else ""
    return (document.firm and document.firm.name) or hidden


def _title(source: Source, speech: Speech) -> str:
    title = speech.word("head/title" if _is_pesticide(source.document) else "head/title-other")
    return speech.word("head/title-void", title=title) if source.is_void or source.void_later else title


def _furniture(source: Source, speech: Speech) -> Furniture:
    record, firm = source.document.record, source.document.firm
    names = {"number": record.number or "–", "version": str(record.version or 1)}
    described = speech.word("head/subject", **names)
    return Furniture(
        title=f"{_title(source, speech)} – {described}",
        author=(firm and firm.name) or "",
        subject=described,
        language=speech.language,
        identity=speech.word("head/identity", **names, digest=source.digest, paper=PAPER_VERSION),
        caution=speech.word("head/foot"),
        page_words=speech.word("head/page"),
        stamp=_stamp(source, speech),
    )


def _stamp(source: Source, speech: Speech) -> str:
    """What every page says of a paper that must not be taken for the record that holds."""
    if not source.signed:
        return speech.word("head/not-signed")
    if source.is_void:
        return speech.word("head/stamp-void")
    if source.superseded_by is None:
        return ""
    version = str(source.superseded_by.version or "–")
    return speech.word("head/stamp-void-by" if source.void_later else "head/stamp-superseded", version=version)


def _is_pesticide(document: TreatmentDocument) -> bool:
    products = [product for mix in document.mixes or () for product in mix.products or ()]
    return any(product.regime in (None, "pesticide") for product in products)


def _head(source: Source, speech: Speech) -> tuple[Fact, ...]:
    record = source.document.record
    result = speech.listed("result", record.result) or "–"
    return (
        Fact(speech.word("head/number"), record.number or speech.word("head/not-recorded")),
        Fact(speech.word("head/version"), str(record.version or 1)),
        Fact(
            speech.word("head/result"),
            speech.word("head/result-void", result=result) if source.is_void else result,
        ),
        Fact(speech.word("head/state"), _state(source, speech)),
    )


def _state(source: Source, speech: Speech) -> str:
    if not source.signed:
        return speech.word("head/state-not-signed")
    if source.is_void:
        return speech.word("head/state-void")
    if later := source.superseded_by:
        state = "head/state-void-later" if source.void_later else "head/state-superseded"
        return speech.word(state, version=str(later.version or "–"))
    return speech.word("head/state-corrected" if source.document.record.replaces else "head/state-signed")


def _looked_up_at(source: Source, base_address: str) -> str:
    """The address of the record's proof, of one without a proof its own, with its digest as fragment; without
    a base address a URN (RFC 9562)."""
    identity, proof = source.document.record.id or "", source.entry.proof
    where = f"proof/{proof}/" if proof else f"records/{identity}/"
    address = f"{base_address.rstrip('/')}/{where}" if base_address else f"urn:uuid:{identity}"
    return f"{address}#{source.digest}"


def _of_what_is_left(speech: Speech) -> Speech:
    """Of a part that was erased by half nobody can tell what had been recorded."""
    words = {**speech.catalogue, "head/not-recorded": speech.catalogue["head/erased-or-not-recorded"]}
    return replace(speech, catalogue=words)


def _sections(source: Source, speech: Speech) -> list[Section]:
    parts = [after.since(source, speech), after.erased(source, speech), after.correction(source, speech)]
    gone = set((source.erased and source.erased.sections) or ())
    for needs, title, part in PARTS:
        if all(need in source.withheld for need in needs):
            word = "head/erased" if gone.issuperset(needs) else "head/withheld"
            parts.append(Section(speech.word(title), (Note(speech.word(word)),)))
            continue
        made = part(source.document, _of_what_is_left(speech) if gone.intersection(needs) else speech)
        parts += made if isinstance(made, tuple) else (made,)
    parts += [after.follow_ups(source, speech), after.withheld(source, speech), after.cautions(speech)]
    return [part for part in parts if part]
