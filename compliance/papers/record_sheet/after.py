"""What frames the facts: the correction, follow-ups, signatures and digests, cautions."""

from compliance.papers.parts import grid, known
from compliance.papers.record_sheet.source import Source
from compliance.papers.speech import Speech, joined
from records.document.follow_up import FollowUp, Signature
from shared.paper import Block, Code, Column, Facts, Note, Row, Section

_BEGINNING = len("sha256:") + 16


def correction(source: Source, speech: Speech) -> Section | None:
    """Which version this one replaces, and why; stands first on the sheet."""
    record = source.document.record
    if record.replaces is None and not record.reason:
        return None
    replaced = str(record.replaces.version or "–") if record.replaces else ""
    facts = (
        *known(
            speech,
            "correction/replaces",
            speech.word("correction/replaces-version", version=replaced) if replaced else "",
        ),
        *known(speech, "correction/corrected-at", speech.moment(record.corrected_at), span=3),
    )
    blocks: list[Block] = [Facts(facts)] if facts else []
    if record.reason:
        blocks.append(Note(record.reason, speech.word("correction/reason")))
    if record.replaces and record.replaces.digest:
        blocks.append(Code(speech.word("correction/replaced-digest"), record.replaces.digest))
    return Section(speech.word("correction/correction"), tuple(blocks))


_FOLLOW_UP_COLUMNS = (
    Column("after/follow-up-kind", 4),
    Column("conditions/at", 5),
    Column("care/done-by", 4),
    Column("after/detail", 10),
)


def follow_ups(source: Source, speech: Speech) -> Section | None:
    """What happened after the signature, oldest first."""
    rows = [_follow_up_row(one, speech) for one in sorted(source.follow_ups, key=lambda one: one.at or "")]
    return (
        Section(speech.word("after/follow-ups"), (grid(speech, _FOLLOW_UP_COLUMNS, rows),)) if rows else None
    )


def _follow_up_row(follow_up: FollowUp, speech: Speech) -> Row:
    cells = (
        speech.listed("follow_up_kind", follow_up.kind),
        speech.time(follow_up.at),
        follow_up.by or "",
        follow_up.detail or "",
    )
    return Row(cells)


def digests(source: Source, speech: Speech) -> tuple[Block, ...]:
    """The digest that proves the record, for the head of the sheet."""
    if not source.signed:
        return (Code(speech.word("after/document-digest"), source.digest),)
    return (Code(speech.word("after/digest"), source.digest), Note("", speech.word("after/evidence")))


def signatures(source: Source, speech: Speech) -> Section | None:
    """Who signed, as what, when, with which key."""
    blocks = [block for one in source.signatures for block in _signature(one, speech)]
    return Section(speech.word("after/signatures"), tuple(blocks)) if blocks else None


def _signature(signature: Signature, speech: Speech) -> list[Block]:
    device = signature.device_at and speech.word("after/device-at", time=speech.moment(signature.device_at))
    signer = joined((signature.by, signature.role))
    facts = (
        *known(speech, "after/signed-by", signer, span=2),
        *known(
            speech,
            "after/signed-at",
            speech.moment(signature.claimed_at),
            device or "",
            span=2,
        ),
    )
    key = speech.word("after/key", algorithm=signature.algorithm or "–")
    return [
        Facts(facts),
        *([Note(signature.meaning, speech.word("after/meaning"))] if signature.meaning else []),
        Code(key, signature.key or "–"),
        Code(speech.word("after/signature-value"), signature.value or "–"),
    ]


def withheld(source: Source, speech: Speech) -> Section | None:
    """The parts that this copy leaves out, with the digests that bind them to the record."""
    if not source.withheld:
        return None
    sections = "; ".join(f"{name} {digest[:_BEGINNING]}…" for name, digest in source.withheld.items())
    text = speech.word("head/withheld-text", sections=sections)
    return Section(speech.word("head/withheld-title"), (Note(text),))


def cautions(speech: Speech) -> Section:
    """The usual cautions of the work."""
    return Section(speech.word("after/cautions"), (Note(speech.word("after/cautions-text")),))
