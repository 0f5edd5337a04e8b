"""What Washington's record must state, by hand: for each rule the members that do, and what is lacking."""

from collections.abc import Iterator
from dataclasses import dataclass

from benchmarks.by_hand.reach import Names, has, rows, value
from compliance.rulebook.facts import Branch

OFFICE = ("firm.address.line1", "firm.address.city", "firm.address.region", "firm.address.postcode")
HOME = ("customer.address.line1", "customer.address.city")


@dataclass
class Asked:
    """One thing that the record must state: the members that do not, and its words."""

    lacking: Names
    en: str
    es: str


def stated(root: Branch, paths: Names, en: str, es: str) -> Asked:
    return Asked(tuple(path for path in paths if not has(root, path)), en, es)


def every(root: Branch, path: str, member: str, en: str, es: str) -> Asked:
    items = rows(root, path)
    lacking = [f"{row.path}.{member}" for row in items if not has(row, member)]
    return Asked(() if items and not lacking else (*lacking[:1],) or (path,), en, es)


def some(root: Branch, path: str, member: str, en: str, es: str) -> Asked:
    items = rows(root, path)
    if any(has(row, member) for row in items):
        return Asked((), en, es)
    return Asked((f"{items[0].path}.{member}" if items else path,), en, es)


def whole_record(root: Branch) -> Iterator[tuple[str, Names, list[Asked]]]:
    place, address = has(root, "site.position.latitude"), has(root, "site.address.line1")
    where = ("site.address.line1", "site.position.latitude", "site.address.city")
    at = Asked(
        () if place or address else where[:1],
        "the site's address or position",
        "la dirección o posición del sitio",
    )
    city = Asked(() if place or has(root, where[2]) else where[2:], "the site's city", "la ciudad del sitio")
    yield "location", where, [at, city]
    began = stated(root, ("timing.started_at",), "when it began", "cuándo empezó")
    ended = stated(root, ("timing.finished_at",), "when it ended", "cuándo terminó")
    yield "time", ("timing.started_at", "timing.finished_at"), [began, ended]
    kinds = every(root, "treatment.surfaces", "kind", "the kind of each surface", "el tipo de cada superficie")
    yield "site", ("surfaces",), [kinds]
    areas = every(
        root,
        "treatment.surfaces",
        "treated_area",
        "the treated area of each surface",
        "el área tratada de cada superficie",
    )
    yield "area", ("surfaces",), [areas]
    yield "licensed-applicator", ("firm.licences", *OFFICE, "firm.phone"), licensed_applicator(root)
    names = every(
        root,
        "treatment.applicators",
        "name",
        "the name of each person who sprayed",
        "el nombre de cada persona que roció",
    )
    yield "appliers", ("people",), [names]
    yield from weather(root)
    yield (
        "customer-name",
        ("customer.name",),
        [stated(root, ("customer.name",), "the customer's name", "el nombre del cliente")],
    )
    yield (
        "customer-address",
        HOME,
        [stated(root, HOME, "the customer's street and city", "la calle y la ciudad del cliente")],
    )
    yield (
        "firm",
        ("firm.name", "firm.licences"),
        [
            stated(root, ("firm.name",), "the firm's name", "el nombre de la empresa"),
            some(
                root,
                "firm.licences",
                "number",
                "the firm's licence number",
                "el número de licencia de la empresa",
            ),
        ],
    )
    yield from equipment(root)


def licensed_applicator(root: Branch) -> list[Asked]:
    return [
        some(
            root,
            "firm.licences",
            "holder",
            "the licence holder's name",
            "el nombre del titular de la licencia",
        ),
        stated(
            root,
            OFFICE,
            "the firm's address (street, city, state, zip)",
            "la dirección de la empresa (calle, ciudad, estado, código postal)",
        ),
        stated(root, ("firm.phone",), "the firm's telephone number", "el teléfono de la empresa"),
    ]


def weather(root: Branch) -> Iterator[tuple[str, Names, list[Asked]]]:
    about, readings = ("weather.readings",), rows(root, "treatment.readings")
    moving = [each for each in readings if value(each, "calm") is not True]
    steady = [each for each in moving if value(each, "wind_variable") is not True]
    wanted = (
        ("wind_from", steady, "the wind direction", "la dirección del viento"),
        ("wind_speed", moving, "the wind speed", "la velocidad del viento"),
    )
    asked = []
    for member, among, en, es in wanted:
        lacking = [f"{reading.path}.{member}" for reading in among if not has(reading, member)]
        enough = len(lacking) < len(readings)
        asked.append(Asked(() if enough else (*lacking[:1],) or about, en, es))
    yield "wind", about, asked
    during = every(
        root,
        "treatment.readings_between",
        "at",
        "a weather reading between start and finish",
        "una lectura del tiempo entre el inicio y el fin",
    )
    yield "wind-during", about, [during]
    warmth = some(root, "treatment.readings", "temperature", "the temperature", "la temperatura")
    yield "temperature", about, [warmth]


def equipment(root: Branch) -> Iterator[tuple[str, Names, list[Asked]]]:
    powered = [row for row in rows(root, "equipment") if value(row, "method") == "powered-sprayer"]
    bare = tuple(f"{row.path}.identification" for row in powered if not has(row, "identification"))
    plate = Asked(bare[:1], "the rig's plate or identification", "la placa o identificación del equipo")
    yield "apparatus-plate", ("equipment",), [plate]
    methods = every(
        root, "equipment", "method", "the method of each piece of equipment", "el método de cada equipo"
    )
    yield "method", ("equipment",), [methods]
