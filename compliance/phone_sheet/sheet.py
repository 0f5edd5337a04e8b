"""The sheet of one treatment: what the phone judges by, as plain data. Pure."""

from collections.abc import Sequence
from typing import Any

from compliance.facts_reader import read_facts
from compliance.phone_sheet.entries import entries_of
from compliance.phone_sheet.labels import label_limits
from compliance.phone_sheet.musts import mends_of
from compliance.phone_sheet.units import units_on_the_phone
from compliance.rulebook.pack import Pack
from records.document.canonical import as_json
from records.document.context import Context
from records.document.types import TreatmentDocument

Json = dict[str, Any]

SCHEMA = "phone-sheet/2"
_DIMENSIONS = (
    "speed",
    "temperature",
    "length",
    "time",
    "volume",
    "mass",
    "density",
    "share",
    "area",
    "volume_per_area",
    "mass_per_area",
    "volume_per_volume",
    "mass_per_volume",
)


def limits_and_musts(
    packs: Sequence[Pack], document: TreatmentDocument, context: Context, others: Sequence[Json] = ()
) -> Json:
    """What can be told on a phone of this treatment by these packs (those of a check) and its labels.

    `day`: the day of which the rules are. `labels`: what a line is judged by that states the same product and
    label; besides the document's lines there are `others` that may come to stand in it.
    """
    facts = read_facts(document, context)
    sheet: Json = {"limits": [], "musts": []}
    mends: dict[str, Json] = {}
    for pack in packs:
        for standing in pack.timetable.on(facts.day):
            for name, entry in entries_of(standing, pack, facts):
                sheet[name].append(entry)
                mends |= mends_of(standing) if name == "musts" else {}
    return {
        "schema": SCHEMA,
        "day": facts.day.isoformat() if facts.day else None,
        **sheet,
        "mends": mends,
        "labels": label_limits([*_lines(document), *others]),
        "units": units_on_the_phone(_DIMENSIONS),
    }


def _lines(document: TreatmentDocument) -> list[Json]:
    return [line for mix in as_json(document).get("mixes") or [] for line in mix.get("products") or []]
