"""What the labels of product lines limit, so that a phone can tell it wherever such a line stands. Pure."""

from collections.abc import Iterable, Mapping
from typing import Any

from compliance.facts_reader import read_facts
from compliance.label_gaps import is_pesticide
from compliance.label_pack import label_packs
from compliance.phone_sheet.entries import entries_of
from records.document.context import Context
from records.document.reader import read
from records.document.types import DOCUMENT_SCHEMA
from shared.canonical import canonical_bytes

Json = dict[str, Any]

_OF_THE_LABEL = ("name", "registration_number", "kind", "label")


def label_limits(lines: Iterable[Mapping[str, Any]]) -> list[Json]:
    """Each product as stated, once, with its label's limits; a pesticide without a label is left out."""
    stated = [{name: line[name] for name in _OF_THE_LABEL if line.get(name) is not None} for line in lines]
    once = {canonical_bytes(product): product for product in stated}
    return [told for product in once.values() if (told := _limits_of(product))]


def _limits_of(product: Json) -> Json | None:
    document = read({"schema": DOCUMENT_SCHEMA, "record": {}, "mixes": [{"products": [product]}]})
    ((line,),) = [mix.products or [] for mix in document.mixes or []]
    if line.label is None and is_pesticide(line):
        return None
    facts = read_facts(document, Context())
    entries = (
        entry
        for pack in label_packs(document)
        for standing in pack.timetable.on(None)
        for entry in entries_of(standing, pack, facts)
    )
    return {"product": product, "limits": [entry for name, entry in entries if name == "limits"]}
