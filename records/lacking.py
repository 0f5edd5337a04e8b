"""Papers that a record leaves one to look for: what nobody can hand over with it. Pure."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Any, TypedDict

from msgspec.json import Decoder

LABEL, LICENCE, FIRM_LICENCE, COPY, SIGN = "label", "licence", "firm-licence", "copy", "sign"
KINDS = (LABEL, LICENCE, FIRM_LICENCE, COPY, SIGN)
_AT_WORK = frozenset({"mixed", "sprayed"})

Json = Mapping[str, Any]


class _Licensed(TypedDict, total=False):
    licences: list[dict[str, Any]] | None


class _Person(_Licensed, total=False):
    tasks: list[str] | None
    supervised_by: str | None


class _Mix(TypedDict, total=False):
    products: list["_Product"] | None


class _Product(TypedDict, total=False):
    label: dict[str, Any] | None


class _Record(TypedDict, total=False):
    result: str | None


class _LookedInto(TypedDict, total=False):
    record: _Record | None
    firm: _Licensed | None
    people: list[_Person] | None
    mixes: list[_Mix] | None
    postings: list[_Record] | None


_DECODER = Decoder(_LookedInto)


def read_for_lacking(document: str) -> Json:
    """Of a document as JSON what is looked into; of hundreds the rest would take most of the time."""
    return _DECODER.decode(document)


def lacking(document: Json, day: date, follow_ups: Collection[str]) -> set[str]:
    """Of a treatment document, the day of the treatment and the kinds of its follow-ups.

    `label`: a product without the facts of its label; `licence`, `firm-licence`: none that was valid that day,
    of somebody who mixed or sprayed under nobody's supervision, or of the firm; `copy`: no word that the
    customer has theirs; `sign`: one was posted, and there is no word that it was taken down.
    """
    found = {SIGN} if document.get("postings") and "sign-removed" not in follow_ups else set()
    if (document.get("record") or {}).get("result") == "stood-down":
        return found
    if "copy-given" not in follow_ups:
        found.add(COPY)
    products = [one for mix in document.get("mixes") or () for one in mix.get("products") or ()]
    if any(not (one.get("label") or {}).get("version") for one in products):
        found.add(LABEL)
    if not _holds((document.get("firm") or {}).get("licences"), day):
        found.add(FIRM_LICENCE)
    on_their_own = [
        one
        for one in document.get("people") or ()
        if _AT_WORK.intersection(one.get("tasks") or ()) and not one.get("supervised_by")
    ]
    if not on_their_own or any(not _holds(one.get("licences"), day) for one in on_their_own):
        found.add(LICENCE)
    return found


def _holds(licences: Iterable[Json] | None, day: date) -> bool:
    """Whether one of them is valid on the day; both its days count, and one without days holds."""
    on = day.isoformat()
    return any((one.get("valid_from") or "") <= on <= (one.get("valid_to") or "9999") for one in licences or ())
