"""Documents and record files that the papers are printed from: ordinary, full, and absurdly long."""

import copy
import json
from pathlib import Path
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from records.document.reader import read
from records.document.record_file import record_file
from records.document.signatures import key_digest, public_key_text, with_signature
from records.document.signed_record import seal, sections_of

FACTS = Path(__file__).parents[3] / "fixtures" / "facts"
GOLDEN = Path(__file__).parents[3] / "fixtures" / "golden" / "papers"
KEY = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))
KEYS = {key_digest(KEY.public_key()): public_key_text(KEY.public_key().public_bytes_raw())}


def ordinary() -> dict[str, Any]:
    """One product on one roof."""
    return json.loads((FACTS / "roof-in-september.json").read_text())


def usual() -> dict[str, Any]:
    """One mix on one roof with a helper, two readings, four features, a sign and remarks."""
    document = ordinary()
    document["people"].append(_helper("T. Ibáñez"))
    reading = document["weather"]["readings"][0]
    document["weather"]["readings"].append(reading | {"at": "2026-09-14T09:44:00-07:00"})
    document["site"]["features"] += [
        {"kind": "planting-bed", "name": "rose bed", "distance": _q("2", "ft")},
        {"kind": "neighbour-boundary", "name": "east fence", "distance": _q("12", "ft")},
    ]
    document["protection"].append(
        {
            "step": "plants-pre-wet",
            "features": ["rose bed"],
            "at": "2026-09-14T08:58:00-07:00",
            "by": "T. Ibáñez",
        }
    )
    document["protection"].append(
        {"step": "people-told-on-arrival", "at": "2026-09-14T08:40:00-07:00", "by": "T. Ibáñez"}
    )
    document["notes"] = "Ladder tied off at the north-west corner. Customer asked us to spare the fern."
    return document


def full() -> dict[str, Any]:
    """Two mixes, four products, three surfaces, four people, a spill, a correction."""
    document = ordinary()
    document["record"] |= {
        "version": 2,
        "replaces": {"version": 1, "digest": "sha256:" + "1f" * 32},
        "reason": "The tank gauge was misread: 14 gal were applied, not 12 gal.",
        "corrected_at": "2026-09-16T08:30:00-07:00",
    }
    document["timing"]["pauses"] = [
        {
            "started_at": "2026-09-14T09:25:00-07:00",
            "finished_at": "2026-09-14T09:31:00-07:00",
            "note": "a gust",
        }
    ]
    document["people"] += [_supervisor(), _helper("T. Ibáñez"), _helper("Łucja Ńowak")]
    document["surfaces"] += [_surface("Main roof, south slope", "roof"), _surface("Front walk", "walk")]
    document["targets"] = ["moss", "algae", "lichen"]
    document["mixes"] += [_second_mix(document["mixes"][0])]
    document["site"]["features"] += [
        {"kind": "pond", "name": "koi pond", "distance": _q("35", "ft"), "bearing": _q("90", "degree")},
        {"kind": "planting-bed", "name": "rose bed", "distance": _q("0.6", "m")},
        {"kind": "neighbour-boundary", "distance": _q("12", "ft"), "bearing": _q("348.75", "degree")},
    ]
    document["weather"]["readings"] += [_metric_reading(), _calm_reading()]
    document["protection"] += [
        {"step": "people-told-on-arrival", "at": "2026-09-14T08:40:00-07:00", "by": "T. Ibáñez"},
        {
            "step": "plants-pre-wet",
            "features": ["rose bed"],
            "at": "2026-09-14T08:58:00-07:00",
            "by": "T. Ibáñez",
            "note": "wetted twice",
            "evidence": [{"sha256": "ab" * 32, "media_type": "image/jpeg", "bytes": 812345}],
        },
    ]
    document["notices"].append(
        {"to": "neighbour", "notice": "0b0a4f54-6d1c-4f7e-9a53-0a6c1f5d2b11", "digest": "sha256:" + "5c" * 32}
    )
    document["incidents"] = [_spill()]
    document["notes"] = "Ladder tied off at the north-west corner. Customer asked us to spare the fern."
    return document


def absurd() -> dict[str, Any]:
    """Every open text as long as it may be, or nearly so."""
    document = full()
    long = "Wolframs-Eschenbacher Dachreinigung und Söhne mit sehr langem Namen "
    document["firm"]["name"] = (long * 30)[:1990]
    document["customer"]["name"] = "Q" * 1990
    document["site"]["address"]["line1"] = (long * 30)[:1990]
    document["surfaces"][0]["material"] = "W" * 1990
    for mix in document["mixes"]:
        for product in mix["products"]:
            product["name"] = (f"{product['name']} " * 150)[:1990]
            product["lot"] = "L" * 600
    document["incidents"][0]["description"] = (long * 30)[:1990]
    document["notes"] = (long * 400)[:19_990]
    return document


def signed(document: dict[str, Any], withhold: tuple[str, ...] = (), **more: Any) -> dict[str, Any]:
    """The record file of a document, signed with a fixed key; `more` may hold check and follow_ups."""
    stated = read(copy.deepcopy(document))
    sections = sections_of(stated)
    salts = {name: f"{place:032x}" for place, name in enumerate(sections)}
    record = with_signature(
        seal(stated, more.get("answers", ()), more.get("bound_check"), salts),
        KEY,
        by="R. Osei",
        role="applicator",
        meaning="I did this treatment and this record of it is true and complete.",
        claimed_at="2026-09-14T10:07:12-07:00",
        device_at="2026-09-14T10:07:11-07:00",
    )
    shown = {name: section for name, section in sections.items() if name not in withhold}
    beside = {name: more[name] for name in ("check", "entry", "superseded_by") if name in more}
    return record_file(record, shown, salts, more.get("follow_ups", ()), keys=more.get("keys", KEYS), **beside)


def follow_ups() -> list[dict[str, Any]]:
    """A copy given and a sign taken down, newest first, both signed with the fixed key."""
    return [
        _follow_up("sign-removed", "2026-09-16T12:00:00-07:00", "T. Ibáñez"),
        _follow_up("copy-given", "2026-09-15T09:00:00-07:00", "J. Quill", detail="by e-mail to the customer"),
    ]


def _follow_up(kind: str, at: str, by: str, **more: Any) -> dict[str, Any]:
    follows = {"id": ordinary()["record"]["id"], "digest": "sha256:" + "7e" * 32}
    stated = {"schema": "follow-up/1", "follows": follows, "kind": kind, "at": at, "by": by, **more}
    return with_signature(stated, KEY, by=by, role="crew", meaning="follow-up", claimed_at=at)


def _q(value: str, unit: str) -> dict[str, str]:
    return {"value": value, "unit": unit}


def _supervisor() -> dict[str, Any]:
    return {
        "name": "J. Quill",
        "role": "supervisor",
        "licences": [
            {"authority": "us-wa", "kind": "commercial applicator", "number": "CA-00017",
             "categories": ["ornamental-turf"], "valid_from": "2026-01-01", "valid_to": "2026-12-31"}
        ],
        "positions": [],
    }  # fmt: skip


def _helper(name: str) -> dict[str, Any]:
    return {
        "name": name,
        "role": "helper",
        "licences": [],
        "tasks": ["hose", "rinsed", "protected"],
        "supervised_by": "R. Osei",
        "supervision": "in-sight",
        "trained_on": "2026-03-02",
        "positions": [
            {"where": "ground", "time": _q("30", "min")},
            {"where": "ladder", "time": _q("5", "min")},
        ],
        "ppe": ["gloves", "goggles", "boots", "fall-protection"],
    }


def _surface(name: str, kind: str) -> dict[str, Any]:
    return {"name": name, "kind": kind, "material": "concrete", "treated_area": _q("60", "m**2")}


def _second_mix(first: dict[str, Any]) -> dict[str, Any]:
    mix = copy.deepcopy(first)
    product = mix["products"][0]
    more = [
        ("Sample Algae Rinse Concentrate 25", "99999-31", "pesticide", _q("16", "fl_oz")),
        ("Sample Spreader", "99999-44", "adjuvant", _q("250", "mL")),
        ("Sample Dry Salts", "99999-52", "pesticide", _q("2.5", "lb")),
    ]
    mix["products"] = [
        copy.deepcopy(product)
        | {"name": name, "registration_number": number, "kind": kind, "amount": amount, "density": None}
        for name, number, kind, amount in more
    ]
    mix["products"][0] |= {"restricted_use": True, "signal_word": "danger"}
    mix |= {
        "applied": _q("9", "gal"),
        "loads": [
            {"volume": _q("5", "gal"), "batch": "B-0091", "from_record": "2026-0140"},
            {"volume": _q("5", "gal")},
        ],
        "left_over": {"amount": _q("0", "gal"), "disposition": "none"},
        "diluent": {"name": "water", "amount": _q("9.5", "gal")},
        "surfaces": [
            {"surface": "Main roof, south slope", "applied": _q("6", "gal")},
            {
                "surface": "Front walk",
                "applied": _q("3", "gal"),
                "started_at": "2026-09-14T09:36:00-07:00",
                "finished_at": "2026-09-14T09:45:00-07:00",
            },
        ],
    }
    return mix


def _metric_reading() -> dict[str, Any]:
    return {
        "at": "2026-09-14T09:40:00-07:00",
        "by": "R. Osei",
        "calm": False,
        "wind_from": _q("200", "degree"),
        "wind_variable": True,
        "wind_speed": _q("10", "km/h"),
        "gust": _q("14", "km/h"),
        "temperature": _q("17", "degC"),
        "sky": "partly-cloudy",
        "source": "station",
    }


def _calm_reading() -> dict[str, Any]:
    return {"at": "2026-09-14T09:46:00-07:00", "by": "T. Ibáñez", "calm": True, "source": "estimate"}


def _spill() -> dict[str, Any]:
    return {
        "kind": "spill",
        "at": "2026-09-14T09:26:00-07:00",
        "description": "A hose coupling dripped onto the drive.",
        "amount": _q("0.1", "gal"),
        "action": "Soaked up with granules, bagged.",
        "reported_to": "J. Quill",
        "reported_at": "2026-09-14T09:30:00-07:00",
    }


def stored_check() -> dict[str, Any]:
    """A stored check with every outcome, one of them on a text from memory, and everything around them."""
    return {
        "schema": "stored-check/1",
        "document": "sha256:" + "3d" * 32,
        "context": "sha256:" + "4e" * 32,
        "on": "2026-09-15",
        "engine": "1",
        "packs": [_pack()],
        "not_covered": ["us-wa-quill"],
        "not_checked": [
            {
                "en": "Which licence category covers moss on roofs.",
                "es": "Qué categoría cubre el musgo en techos.",
            }
        ],
        "questions": [
            {
                "id": "us-wa/structural",
                "asks": {"en": "Is a roof a structural application?", "es": "¿Es un techo una estructura?"},
                "ask_whom": {"en": "the department's licensing office", "es": "la oficina de licencias"},
            }
        ],
        "findings": _findings(),
        "limits": [
            {
                "quantity": "wind_speed",
                "for": "mixes[0].products[0]",
                "min": None,
                "max": _q("10", "mph"),
                "set_by": {
                    "layer": "label",
                    "rule": "label/99999-12/wind_speed",
                    "cite": "label of Sample Moss Wash, 2025-03",
                },
            }
        ],
        "outcome": "not_met",
    }


def _pack() -> dict[str, Any]:
    return {
        "pack": "us-wa",
        "version": "2026.1",
        "digest": "sha256:" + "6a" * 32,
        "title": {"en": "Washington pesticide application rules", "es": "Reglas de Washington"},
        "caution": {
            "en": "Help, not legal advice; ask the department.",
            "es": "Ayuda, no asesoría legal; pregunte al departamento.",
        },
        "reviewed": {"on": "2026-08-30", "by_means": "mixed"},
    }


def _findings() -> list[dict[str, Any]]:
    return [
        _finding(
            "label/99999-12/wind_speed",
            "not_met",
            ("Wind within the label's limit", "Viento dentro del límite de la etiqueta"),
            ("The wind was 14 mph at 9:20; the label allows at most 10 mph.",
             "El viento era de 14 mi/h a las 9:20; la etiqueta permite 10 mi/h como máximo."),
            layer="label",
            cite="label of Sample Moss Wash, 2025-03",
            about=["weather.readings[0].wind_speed"],
            observed=_q("14", "mph"),
            bound={"min": None, "max": _q("10", "mph")},
        ),
        _finding(
            "us-wa/record/address",
            "not_met",
            ("Address of the person", "Dirección de la persona"),
            ("The customer's address is missing.", "Falta la dirección del cliente."),
            text="memory",
            doubt={"en": "These lines of the form were not seen.",
                   "es": "No se vieron esas líneas del formulario."},
            about=["customer.address"],
        ),
        _finding(
            "us-wa/licence/supervision",
            "cant_tell",
            ("Supervision of a helper", "Supervisión de un ayudante"),
            ("Who supervised T. Ibáñez is not on record.", "No consta quién supervisó a T. Ibáñez."),
            level="advised",
            about=["people[2].supervised_by"],
        ),
        _finding(
            "us-wa/record/temperature",
            "met",
            ("Temperature", "Temperatura"),
            ("The temperature is on record.", "La temperatura consta."),
            text="restated",
            about=["weather.readings[0].temperature"],
            observed="61 °F",
        ),
        _finding(
            "us-wa/retention",
            "not_applicable",
            ("Keep the record", "Conservar el registro"),
            ("The record is kept for seven years.", "El registro se conserva siete años."),
            cite="RCW 17.21.100(4)",
            keep_until="2033-09-14",
        ),
        _finding(
            "us/copy",
            "not_applicable",
            ("Copy to the customer", "Copia al cliente"),
            ("Not due yet.", "Aún no vence."),
            due="2026-10-14T23:59:59-07:00",
        ),
    ]  # fmt: skip


def _finding(
    rule: str, outcome: str, title: tuple[str, str], message: tuple[str, str], **more: Any
) -> dict[str, Any]:
    usual = {
        "level": "required", "layer": "law", "stage": "during", "cite": "RCW 17.21.100(1)", "text": "found",
        "doubt": None, "about": [], "observed": None, "bound": None, "due": None, "keep_until": None,
        "wording": "record/missing", "blanks": {},
    }  # fmt: skip
    said = {
        "title": dict(zip(("en", "es"), title, strict=True)),
        "message": dict(zip(("en", "es"), message, strict=True)),
    }
    return {"rule": rule, "outcome": outcome, **usual, **said, **more}


ANSWERS = (
    {
        "rule": "label/99999-12/wind_speed",
        "about": ["weather.readings[0].wind_speed"],
        "reason": "A single gust while packing up; nothing was being sprayed.",
    },
)
