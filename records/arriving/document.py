"""A row of an old log as a treatment document: what it says and no more, and in the notes where it is from."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from records.arriving.entries import Entry
from records.document.types import DOCUMENT_SCHEMA
from records.document.words import label
from shared.folded import folded
from shared.quantities import Quantity
from shared.wording import Wording, fill

Json = dict[str, Any]
_UNNAMED = Wording("surface", "superficie")
_LICENCE = Wording("Applicator's licence number in the row: {number}",
                   "Número de licencia del aplicador en la fila: {number}")  # fmt: skip
WATER = "water"


def build(
    entry: Entry, uuid: str, parts: Mapping[str, Json], origin: str, language: str, holder: str = ""
) -> Json:
    """`parts` are firm, customer and site as the document holds them; the site's has its time zone. `holder` is
    whose the row's licence number is as the firm knows it: a row that names several people doesn't say."""
    document = {
        "schema": DOCUMENT_SCHEMA,
        "record": _filled(
            id=uuid, number=entry.get("number"), version=1, result=entry.get("result", "treated")
        ),
        **parts,
        "timing": _timing(entry, ZoneInfo(parts["site"]["time_zone"])),
        "people": _people(entry, holder),
        "targets": entry.get("target", []),
        "surfaces": _surfaces(entry, language),
        "mixes": _mixes(entry),
        "equipment": _equipment(entry),
        "weather": _weather(entry),
        "notes": _notes(entry, origin, language),
    }
    return {name: section for name, section in document.items() if section not in ([], {})}


def _filled(**members: Any) -> Json:
    return {name: value for name, value in members.items() if value not in (None, "", [], {})}


def _timing(entry: Entry, zone: ZoneInfo) -> Json:
    """A day without a time is planned for its first moment: that says the day and nothing else."""
    times = [*entry.get("started", ()), *entry.get("finished", ())]
    if not entry.get("started"):
        return {"planned_at": _moment(entry["day"], time(0), zone)}
    finished = _moment(entry["day"], times[-1], zone) if len(times) > 1 else None
    return _filled(started_at=_moment(entry["day"], times[0], zone), finished_at=finished)


def _moment(day: date, at: time, zone: ZoneInfo) -> str:
    return datetime.combine(day, at, zone).isoformat(timespec="seconds")


def _people(entry: Entry, holder: str) -> list[Json]:
    names: Sequence[str] = entry.get("applicator", ())
    licences = [{"number": entry["licence"]}] if entry.get("licence") else None
    theirs = names if len(names) == 1 else [name for name in names if folded(name) == folded(holder)]
    return [
        _filled(name=name, role="applicator", licences=licences if name in theirs else None) for name in names
    ]


def _surfaces(entry: Entry, language: str) -> list[Json]:
    kind, treated = entry.get("surface_kind"), entry.get("treated")
    if not (entry.get("surface") or kind or treated):
        return []
    name = entry.get("surface") or (label("surface_kind", kind, language) if kind else _UNNAMED.say(language))
    return [_filled(name=name, kind=kind, treated_area=_json(treated))]


def _mixes(entry: Entry) -> list[Json]:
    first = _filled(
        name=entry.get("product"),
        registration_number=entry.get("registration"),
        lot=entry.get("lot"),
        active_ingredients=[{"name": entry["ingredient"]}] if entry.get("ingredient") else None,
        amount=_json(entry.get("amount")),
    )
    second = _filled(name=entry.get("product_2"), amount=_json(entry.get("amount_2")))
    diluent = _filled(amount=_json(entry.get("diluent")))
    mix = _filled(
        products=[product for product in (first, second) if product],
        diluent={"name": WATER, **diluent} if diluent else None,
        applied=_json(entry.get("applied")),
    )
    return [mix] if mix else []


def _equipment(entry: Entry) -> list[Json]:
    rig = _filled(name=entry.get("rig"), method=entry.get("method"))
    return [rig] if rig else []


def _weather(entry: Entry) -> Json:
    wind = {name: value for name, value in entry.get("wind", {}).items() if name != "said"}
    direction = {} if wind.get("calm") else entry.get("wind_from", {})
    humidity = entry.get("humidity")
    reading = _filled(
        **{**direction, **wind},
        temperature=_json(entry.get("temperature")),
        relative_humidity=humidity and {"value": humidity, "unit": "percent"},
        sky=entry.get("sky"),
    )
    return {"readings": [reading]} if reading else {}


def _notes(entry: Entry, origin: str, language: str) -> str:
    unsaid = "licence" in entry and len(entry.get("applicator", ())) != 1
    licence = fill(_LICENCE, {"number": entry["licence"]}, language) if unsaid else ""
    notes = [str(entry.get("notes", "")), entry.get("wind", {}).get("said", ""), licence, origin]
    return "\n".join(note for note in notes if note)


def _json(quantity: Quantity | None) -> Json | None:
    return quantity.as_json() if quantity is not None else None
