"""The signed follow-up, `follow-up/1`: what happened after the signature; it adds and never replaces."""

from typing import Annotated, Any

from pydantic import Field

from records.document.faults import DocumentFaults, Fault
from records.document.json_text import load
from records.document.kinds import Exactly, Word
from records.document.reader import DOCUMENT_BOUNDS, read_as
from records.document.types import Digest, Evidence, Id, Many, Moment, OpenText, Part

FOLLOW_UP_SCHEMA = "follow-up/1"


class Follows(Part):
    """The record that is followed: its id, and the digest of the version that was at hand."""

    id: Id | None = None
    digest: Digest | None = None


class Signature(Part):
    """One signature as `signed-record/1` and `follow-up/1` carry it."""

    by: OpenText | None = None
    role: OpenText | None = None
    meaning: OpenText | None = None
    algorithm: OpenText | None = None
    key: Digest | None = None
    claimed_at: Moment | None = None
    device_at: Moment | None = None
    value: OpenText | None = None


class FollowUp(Part):
    """One follow-up. A signature covers the canonical bytes of all but `signatures`."""

    schema_: Annotated[str, Exactly(FOLLOW_UP_SCHEMA)] | None = Field(default=None, alias="schema")
    follows: Follows | None = None
    kind: Annotated[str, Word("follow_up_kind")] | None = None
    at: Moment | None = None
    by: OpenText | None = None
    detail: OpenText | None = None
    evidence: Many[Evidence] | None = None
    signatures: Many[Signature] | None = None


def read_follow_up(data: bytes | str | dict[str, Any]) -> FollowUp:
    """The follow-up in a JSON text (or in its parsed object); it must name its schema, what it follows and
    its kind. Raises DocumentFaults."""
    follow_up = read_as(FollowUp, load(data, DOCUMENT_BOUNDS), lambda *_: [])
    needed = {"schema": follow_up.schema_, "follows": follow_up.follows, "kind": follow_up.kind}
    if missing := [Fault(name, "document/missing") for name, value in needed.items() if value is None]:
        raise DocumentFaults(missing)
    return follow_up
