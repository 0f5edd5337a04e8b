"""What frames the facts: the correction, follow-ups, signatures and digests, cautions."""

from compliance.papers.parts import grid, known
from compliance.papers.record_sheet.source import SignedAs, Source
from compliance.papers.speech import Speech, joined
from records.document.follow_up import FollowUp, Signature
from records.document.words import WORD_LISTS
from shared.paper import Block, Code, Column, Facts, Note, Row, Section

_BEGINNING = len("sha256:") + 16


def since(source: Source, speech: Speech) -> Section | None:
    """The later version of the record, if there is one; stands first on the sheet."""
    later = source.superseded_by
    if later is None:
        return None
    what = "void-by" if source.void_later else "corrected-by"
    blocks: list[Block] = [Note(speech.word(f"since/{what}", version=str(later.version or "–")))]
    if later.digest:
        blocks.append(Code(speech.word("since/digest"), later.digest))
    blocks += _at_its_word(source, speech)
    return Section(speech.word("since/since"), tuple(blocks))


def erased(source: Source, speech: Speech) -> Section | None:
    """That what it said of people was erased after its term."""
    gone = source.erased
    if gone is None:
        return None
    text = speech.word(
        "head/erased-text",
        on=speech.long_date(gone.on),
        until=speech.long_date(gone.kept_until),
        under=joined(gone.under or ()),
    )
    return Section(speech.word("head/erased-title"), (Note(text), *_at_its_word(source, speech)))


def _at_its_word(source: Source, speech: Speech) -> list[Block]:
    return [Note("", speech.word("after/at-its-word"))] if source.at_its_word else []


def correction(source: Source, speech: Speech) -> Section | None:
    """Which version this one replaces or makes void, and why."""
    record = source.document.record
    if record.replaces is None and not record.reason:
        return None
    part = "void" if source.is_void else "correction"
    replaced = str(record.replaces.version or "–") if record.replaces else ""
    facts = (
        *known(
            speech,
            f"{part}/replaces",
            speech.word("correction/replaces-version", version=replaced) if replaced else "",
        ),
        *known(speech, f"{part}/corrected-at", speech.moment(record.corrected_at), span=3),
    )
    blocks: list[Block] = [Facts(facts)] if facts else []
    if record.reason:
        blocks.append(Note(record.reason, speech.word(f"{part}/reason")))
    if record.replaces and record.replaces.digest:
        blocks.append(Code(speech.word("correction/replaced-digest"), record.replaces.digest))
    return Section(speech.word(f"{part}/correction"), tuple(blocks))


_FOLLOW_UP_COLUMNS = (
    Column("after/follow-up-kind", 4),
    Column("conditions/at", 5),
    Column("after/signed-by", 6),
    Column("after/detail", 8),
)


def follow_ups(source: Source, speech: Speech) -> Section | None:
    """What happened after the signature, oldest first."""
    in_order = sorted(source.follow_ups, key=lambda one: one.at or "")
    rows = [_follow_up_row(one, source.digest, speech) for one in in_order]
    return Section(speech.word("after/follow-ups"), (grid(speech, _FOLLOW_UP_COLUMNS, rows),)) if rows else None


def _follow_up_row(follow_up: FollowUp, digest: str, speech: Speech) -> Row:
    cells = (
        speech.listed("follow_up_kind", follow_up.kind),
        speech.moment(follow_up.at),
        _signed_by(follow_up, speech),
        follow_up.detail or "",
    )
    elsewhere = follow_up.follows is not None and follow_up.follows.digest != digest
    return Row(cells, speech.word("after/to-another-version") if elsewhere else "")


def _signed_by(follow_up: FollowUp, speech: Speech) -> str:
    """Who signed it, and when; not who did what it says."""
    signed = [(one.by, speech.moment(one.claimed_at)) for one in follow_up.signatures or []]
    return "; ".join(", ".join(filter(None, each)) for each in signed) or follow_up.by or ""


def proof(source: Source, speech: Speech, signed_as: SignedAs | None) -> tuple[Block, ...]:
    """What proves the record, for the head of the sheet: digest, signature, whether it was verified, and what
    the signature of the file shows."""
    if not source.signed:
        return (Code(speech.word("after/document-digest"), source.digest),)
    signatures = [block for one in source.signatures for block in _signature(one, source, speech)]
    verified = (
        Note("", speech.word("after/verified")) if source.verified else Note(speech.word("after/not-verified"))
    )
    blocks = (Code(speech.word("after/digest"), source.digest), *signatures, verified)
    return (*blocks, _of_the_file(signed_as, speech)) if signed_as else blocks


def _of_the_file(signed_as: SignedAs, speech: Speech) -> Note:
    if signed_as.issuer:
        return Note("", speech.word("after/pdf-vouched", issuer=signed_as.issuer))
    return Note("", speech.word("after/pdf-self-made"))


def _signature(signature: Signature, source: Source, speech: Speech) -> list[Block]:
    """Who signed, as what, when, with which key."""
    device = signature.device_at and speech.word("after/device-at", time=speech.moment(signature.device_at))
    received = _received(source, speech)
    who = joined((signature.by, _role(signature, speech)))
    facts = (
        *known(speech, "after/signed-by", who, _meaning(signature, speech), 3),
        *known(
            speech,
            "after/signed-at",
            speech.moment(signature.claimed_at),
            joined((device, received), "; "),
            3,
        ),
    )
    key = speech.word("after/key", algorithm=signature.algorithm or "–")
    return [
        Facts(facts, columns=6),
        Code(key, signature.key or "–"),
        Code(speech.word("after/signature-value"), signature.value or "–"),
    ]


def _received(source: Source, speech: Speech) -> str:
    if not (at := source.entry.received_at):
        return ""
    word = "after/received-at-its-word" if source.at_its_word else "after/received"
    return speech.word(word, time=speech.moment(at))


def _role(signature: Signature, speech: Speech) -> str:
    """The signer's role in the firm, or on the job, in the sheet's language; another word as it was signed."""
    role = signature.role or ""
    if (said := f"after/role-{role}") in speech.catalogue:
        return speech.word(said)
    return speech.listed("role", role) if role in WORD_LISTS["role"] else role


def _meaning(signature: Signature, speech: Speech) -> str:
    """What the signature means: a word of the list of kinds, or the signer's own words."""
    meaning = signature.meaning or ""
    if meaning in WORD_LISTS["record_kind"]:
        meaning = speech.listed("record_kind", meaning)
    return speech.word("after/meaning", meaning=meaning) if meaning else ""


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
