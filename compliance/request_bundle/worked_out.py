"""What a table's cell says that no member of the record says by itself. Pure."""

from collections.abc import Callable, Mapping
from datetime import date
from functools import cached_property
from typing import Any

from compliance.request_bundle.reading import Json, member
from records.document.amounts import product_applied
from records.document.computed import Amount
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.signed_record import record_digest
from records.document.types import DOCUMENT_SCHEMA, TreatmentDocument
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.quantities import QuantityError, from_fraction
from shared.times import read_time, read_zone

Chain = Mapping[str, Any]
_MIX, _LINE = "sections.mixes[]", "sections.mixes[].products[]"
_LICENCES = ("sections.people[].licences[]", "sections.firm.licences[]")
_OF_A_LABEL = (
    "name", "kind", "registration_number", "signal_word", "restricted_use", "regime", "active_ingredients",
    "density", "label",
)  # fmt: skip


class OfRecord:
    """One record file as it goes into the bundle."""

    def __init__(self, file: Json) -> None:
        self.file = file
        stated = file["record"]["record"]
        self.number, self.version = str(stated.get("number") or ""), stated.get("version") or 1

    @property
    def name(self) -> str:
        return f"{self.number}-v{self.version}"

    @cached_property
    def digest(self) -> str:
        return record_digest(self.file["record"])

    @property
    def state(self) -> str:
        """`holds`, `void`, or by which version it was replaced."""
        later = self.file.get("superseded_by") or {}
        if any(one.get("meaning") == "void" for one in self.file["record"].get("signatures") or ()):
            return "void"
        if later.get("kind") == "void":
            return f"void: version {later.get('version')} says so"
        return f"replaced by version {later['version']}" if later else "holds"

    @cached_property
    def day(self) -> date | None:
        """The day of the treatment, at its site."""
        timing, site = self.file["sections"].get("timing") or {}, self.file["sections"].get("site") or {}
        at = timing.get("started_at") or timing.get("planned_at")
        if not at:
            return None
        moment = read_time(at)
        zone = read_zone(site["time_zone"]) if site.get("time_zone") else None
        return (moment.astimezone(zone) if zone else moment).date()

    @cached_property
    def document(self) -> TreatmentDocument | None:
        whole = {"schema": DOCUMENT_SCHEMA, "record": self.file["record"]["record"], **self.file["sections"]}
        try:
            return read(whole)
        except DocumentFaults:
            return None

    def within(self, span: Any) -> str:
        """Whether the day lies in the span of something that is valid from and to a day, which both count.
        Nothing where neither is stated: nobody can tell."""
        if self.day is None or not isinstance(span, Mapping):
            return ""
        first, last, day = span.get("valid_from"), span.get("valid_to"), self.day.isoformat()
        if not first and not last:
            return ""
        return "yes" if (first or day) <= day <= (last or day) else "no"


def label_of(product: Json) -> dict[str, Any]:
    """What a record states of a product's label, and of the product as the label names it."""
    return {name: product[name] for name in _OF_A_LABEL if product.get(name) is not None}


def label_name(product: Json) -> str:
    """The file of the label: by its number and version, and a part of its digest. Nothing without a label."""
    if not product.get("label"):
        return ""
    stated = (
        product.get("registration_number") or product.get("name") or "",
        product["label"].get("version") or "",
    )
    plain = "-".join("".join(sign if sign.isalnum() else "-" for sign in each) for each in stated if each)
    return f"labels/{plain[:60]}-{digest(canonical_bytes(label_of(product)))[7:15]}.json"


def _applied(record: OfRecord, chain: Chain) -> Any:
    if record.document is None or not record.document.mixes:
        return None
    found = product_applied(record.document, chain[f"#{_MIX}"] - 1, chain[f"#{_LINE}"] - 1)
    if not isinstance(found, Amount):
        return None
    try:
        return from_fraction(found.exact, found.unit).as_json()
    except QuantityError:
        return None


def _valid(record: OfRecord, chain: Chain) -> str:
    return record.within(next(chain[name] for name in _LICENCES if name in chain))


WORKED_OUT: Mapping[str, Callable[[OfRecord, Chain], Any]] = {
    "=file": lambda record, _chain: f"records/{record.name}.json",
    "=state": lambda record, _chain: record.state,
    "=digest": lambda record, _chain: record.digest,
    "=day": lambda record, _chain: record.day,
    "=mix": lambda _record, chain: chain[f"#{_MIX}"],
    "=applied": _applied,
    "=label_file": lambda _record, chain: label_name(chain[_LINE]),
    "=label_in_force": lambda record, chain: record.within(member(chain[_LINE], "label")),
    "=licence_valid": _valid,
}
