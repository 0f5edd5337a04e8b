"""The tables of a bundle: which there are, and from where in a record file each of their columns comes. Pure.

`each` names the list of which an item makes a row, by its place in the file; a table without one has a row for
each version. A column's place is from the file, too. What is not in the file, for it is withheld, is empty.
"""

from dataclasses import dataclass

RECORD = "record.record"
"""Where a record file has number and version."""


@dataclass(frozen=True)
class Col:
    """`at`: the place of a member, or `=name` for what is worked out (`worked_out.py`). A quantity takes two
    columns: its number, and its unit."""

    name: str
    at: str
    quantity: bool = False


@dataclass(frozen=True)
class TableOf:
    name: str
    each: str
    columns: tuple[Col, ...]


KEYS = (Col("number", f"{RECORD}.number"), Col("version", f"{RECORD}.version"))


def _plain(where: str, *names: str) -> tuple[Col, ...]:
    """Columns that are called as the members of `where` are."""
    return tuple(Col(name.replace(".", "_"), f"{where}.{name}") for name in names)


def _quantities(where: str, *names: str) -> tuple[Col, ...]:
    return tuple(Col(name, f"{where}.{name}", quantity=True) for name in names)


_SITE = (
    "name",
    "address.line1",
    "address.line2",
    "address.city",
    "address.region",
    "address.postcode",
    "county",
)
_MIX, _LINE = "sections.mixes[]", "sections.mixes[].products[]"
_READING, _SURFACE, _PERSON = "sections.weather.readings[]", "sections.surfaces[]", "sections.people[]"
_NOTICE, _STEP, _INCIDENT = "sections.notices[]", "sections.protection[]", "sections.incidents[]"


def _licence(where: str) -> tuple[Col, ...]:
    """Its number has a name of its own: `number` is the record's."""
    number = Col("licence_number", f"{where}.number")
    of_whom = _plain(where, "authority", "kind")
    return (*of_whom, number, *_plain(where, "categories", "valid_from", "valid_to"))


TABLES = (
    TableOf("treatments", "", (
        *KEYS, Col("file", "=file"), Col("state", "=state"),
        Col("replaces_version", f"{RECORD}.replaces.version"), Col("reason", f"{RECORD}.reason"),
        Col("result", f"{RECORD}.result"), Col("why", f"{RECORD}.why"),
        Col("day", "=day"), *_plain("sections.timing", "started_at", "finished_at", "recorded_at"),
        Col("received_at", "entry.received_at"), Col("firm", "sections.firm.name"),
        Col("customer", "sections.customer.name"),
        *(Col(f"site_{name.removeprefix('address.')}", f"sections.site.{name}") for name in _SITE),
        *_plain("sections.site.position", "latitude", "longitude"),
        Col("jurisdictions", "sections.site.jurisdictions"), Col("site_use", "sections.site.use"),
        Col("targets", "sections.targets"), Col("signed_by", "record.signatures"), Col("digest", "=digest"),
    )),
    TableOf("products", _LINE, (
        *KEYS, Col("mix", "=mix"), *_plain(_LINE, "name", "kind", "registration_number", "signal_word"),
        *_plain(_LINE, "restricted_use", "regime", "lot", "supplier", "active_ingredients"),
        *_quantities(_LINE, "density", "amount"), Col("applied", "=applied", quantity=True),
        Col("mix_equipment", f"{_MIX}.equipment"), Col("mix_applied", f"{_MIX}.applied", quantity=True),
        *_plain(_LINE, "label.version", "label.valid_from", "label.valid_to"), Col("label_file", "=label_file"),
        Col("label_in_force", "=label_in_force"),
    )),
    TableOf("surfaces", _SURFACE, (
        *KEYS, *_plain(_SURFACE, "name", "kind", "material", "pitch.rise", "pitch.run"),
        *_quantities(_SURFACE, "plan_area", "treated_area"),
    )),
    TableOf("people", _PERSON, (
        *KEYS, *_plain(_PERSON, "name", "role", "tasks", "supervised_by", "supervision", "trained_on", "ppe"),
    )),
    TableOf("licences-of-people", f"{_PERSON}.licences[]", (
        *KEYS, Col("person", f"{_PERSON}.name"), *_licence(f"{_PERSON}.licences[]"),
        Col("valid_on_the_day", "=licence_valid"),
    )),
    TableOf("licences-of-firm", "sections.firm.licences[]", (
        *KEYS, Col("firm", "sections.firm.name"), *_plain("sections.firm.licences[]", "holder"),
        *_licence("sections.firm.licences[]"),
        Col("valid_on_the_day", "=licence_valid"),
    )),
    TableOf("weather", _READING, (
        *KEYS, *_plain(_READING, "at", "by", "source", "calm", "wind_variable", "sky"),
        *_quantities(_READING, "wind_from", "wind_speed", "gust", "temperature", "relative_humidity"),
    )),
    TableOf("protection", _STEP, (*KEYS, *_plain(_STEP, "step", "features", "at", "by", "note"))),
    TableOf("notices", _NOTICE, (
        *KEYS, *_plain(_NOTICE, "to", "name", "means", "language", "sent_at", "delivered_at", "planned_at"),
        *_plain(_NOTICE, "notice", "digest"),
    )),
    TableOf("incidents", _INCIDENT, (
        *KEYS, *_plain(_INCIDENT, "kind", "at", "description", "action", "reported_to", "reported_at"),
        *_quantities(_INCIDENT, "amount"),
    )),
    TableOf("follow-ups", "follow_ups[]", (*KEYS, *_plain("follow_ups[]", "kind", "at", "by", "detail"))),
)  # fmt: skip
