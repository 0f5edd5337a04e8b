"""Washington's pack written out as plain Python over the same facts: what the engine is measured against.

Straight-line code with its sentences inside: no days in force, no citations, no parameters. It gives the same
findings for a finished treatment in one state of the law; being data instead is what the engine costs.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time

from compliance.rulebook.facts import Branch, Facts, Items, Leaf, Node

Names = tuple[str, ...]
Gap = tuple[bool, Names, str, str]
RANK = {"not_met": 0, "cant_tell": 1, "met": 2, "not_applicable": 3}
MEND = "Enter a reading from during the work; if none was taken, say so in the notes."
ARREGLO = "Anote una lectura tomada durante el trabajo; si no se tomó ninguna, dígalo en las notas."


@dataclass(frozen=True)
class Said:
    """A finding as far as it is compared: rule, outcome, members and the sentence in both languages."""

    rule: str
    outcome: str
    about: Names
    en: str
    es: str


def find(facts: Facts) -> list[Said]:
    found = [*whole_record(facts.root), *product_lines(facts), *people(facts), firm_licence(facts)]
    found += [same_day(facts), seven_years(facts)]
    return sorted(found, key=lambda said: (RANK[said.outcome], said.rule, said.about))


def node(owner: Branch, path: str) -> Node | None:
    step: Node | None = owner
    for name in path.split("."):
        step = step.members.get(name) if isinstance(step, Branch) else None
    return step


def has(owner: Branch, path: str) -> bool:
    found = node(owner, path)
    if isinstance(found, Items):
        return bool(found.items)
    return found is not None and not (isinstance(found, Leaf) and found.value is None)


def value(owner: Branch, path: str) -> object:
    found = node(owner, path)
    return found.value if isinstance(found, Leaf) else None


def rows(owner: Branch, path: str) -> list[Branch]:
    found = node(owner, path)
    return [row for row in found.items if isinstance(row, Branch)] if isinstance(found, Items) else []


def record(rule: str, about: Names, gaps: list[Gap], mend: str = "", arreglo: str = "") -> Said:
    """Met unless one of the gaps (is it one, its members, its words) is there."""
    there = [each for each in gaps if each[0]]
    if not there:
        stated = ("The record states what is asked for.", "El registro contiene lo que se pide.")
        return Said(f"us-wa/record/{rule}", "met", about, *stated)
    paths = tuple(dict.fromkeys(path for each in there for path in each[1]))
    asked, pide = ", ".join(each[2] for each in there), ", ".join(each[3] for each in there)
    en = f"The record does not state: {asked}. {mend}".strip()
    es = f"El registro no indica: {pide}. {arreglo}".strip()
    return Said(f"us-wa/record/{rule}", "not_met", paths, en, es)


def gap(root: Branch, path: str, en: str, es: str) -> Gap:
    return not has(root, path), (path,), en, es


def every(root: Branch, path: str, member: str, en: str, es: str) -> Gap:
    items = rows(root, path)
    lacking = [row for row in items if not has(row, member)]
    about = (f"{lacking[0].path}.{member}",) if lacking else (path,)
    return not items or bool(lacking), about, en, es


def some(root: Branch, path: str, member: str, en: str, es: str) -> Gap:
    items = rows(root, path)
    about = (f"{items[0].path}.{member}",) if items else (path,)
    return not any(has(row, member) for row in items), about, en, es


def whole_record(root: Branch) -> Iterator[Said]:
    place = has(root, "site.position.latitude")
    address = has(root, "site.address.line1") or place
    where = ("site.address.line1", "site.position.latitude", "site.address.city")
    yield record(
        "location",
        where,
        [
            (not address, where[:1], "the site's address or position", "la dirección o posición del sitio"),
            (not place and not has(root, where[2]), where[2:], "the site's city", "la ciudad del sitio"),
        ],
    )
    yield record(
        "time",
        ("timing.started_at", "timing.finished_at"),
        [
            gap(root, "timing.started_at", "when it began", "cuándo empezó"),
            gap(root, "timing.finished_at", "when it ended", "cuándo terminó"),
        ],
    )
    yield record(
        "site",
        ("surfaces",),
        [every(root, "surfaces", "kind", "the kind of each surface", "el tipo de cada superficie")],
    )
    yield record(
        "area",
        ("surfaces",),
        [
            every(
                root,
                "surfaces",
                "treated_area",
                "the treated area of each surface",
                "el área tratada de cada superficie",
            )
        ],
    )
    holder = ("firm.address.line1", "firm.address.city", "firm.address.region", "firm.address.postcode")
    absent = tuple(path for path in holder if not has(root, path))
    yield record(
        "licensed-applicator",
        ("firm.licences", *holder, "firm.phone"),
        [
            some(
                root,
                "firm.licences",
                "holder",
                "the licence holder's name",
                "el nombre del titular de la licencia",
            ),
            (
                bool(absent),
                absent,
                "the firm's address (street, city, state, zip)",
                "la dirección de la empresa (calle, ciudad, estado, código postal)",
            ),
            gap(root, "firm.phone", "the firm's telephone number", "el teléfono de la empresa"),
        ],
    )
    yield record(
        "appliers",
        ("people",),
        [
            every(
                root,
                "treatment.applicators",
                "name",
                "the name of each person who sprayed",
                "el nombre de cada persona que roció",
            )
        ],
    )
    yield weather(root)
    yield record(
        "wind-during",
        ("weather.readings",),
        [
            every(
                root,
                "treatment.readings_between",
                "at",
                "a weather reading between start and finish",
                "una lectura del tiempo entre el inicio y el fin",
            )
        ],
    )
    yield record(
        "temperature",
        ("weather.readings",),
        [some(root, "treatment.readings", "temperature", "the temperature", "la temperatura")],
    )
    yield record(
        "customer-name",
        ("customer.name",),
        [gap(root, "customer.name", "the customer's name", "el nombre del cliente")],
    )
    home = ("customer.address.line1", "customer.address.city")
    absent = tuple(path for path in home if not has(root, path))
    yield record(
        "customer-address",
        home,
        [(bool(absent), absent, "the customer's street and city", "la calle y la ciudad del cliente")],
    )
    yield record(
        "firm",
        ("firm.name", "firm.licences"),
        [
            gap(root, "firm.name", "the firm's name", "el nombre de la empresa"),
            some(
                root,
                "firm.licences",
                "number",
                "the firm's licence number",
                "el número de licencia de la empresa",
            ),
        ],
    )
    yield permit(root)
    yield from equipment(root)


def weather(root: Branch) -> Said:
    readings = rows(root, "treatment.readings")
    moving = [each for each in readings if value(each, "calm") is not True]
    steady = [each for each in moving if value(each, "wind_variable") is not True]
    no_direction = [each for each in steady if not has(each, "wind_from")]
    no_speed = [each for each in moving if not has(each, "wind_speed")]
    none = ("weather.readings",)
    return record(
        "wind",
        none,
        [
            (
                not readings or bool(no_direction),
                (f"{no_direction[0].path}.wind_from",) if no_direction else none,
                "the wind direction",
                "la dirección del viento",
            ),
            (
                not readings or bool(no_speed),
                (f"{no_speed[0].path}.wind_speed",) if no_speed else none,
                "the wind speed",
                "la velocidad del viento",
            ),
        ],
        MEND,
        ARREGLO,
    )


def permit(root: Branch) -> Said:
    if not has(root, "permits"):
        said = ("The record names no permit.", "El registro no nombra ningún permiso.")
        return Said("us-wa/record/permit", "not_applicable", ("permits",), *said)
    number = every(root, "permits", "number", "the permit's number", "el número del permiso")
    return record("permit", ("permits",), [number])


def equipment(root: Branch) -> Iterator[Said]:
    powered = [row for row in rows(root, "equipment") if value(row, "method") == "powered-sprayer"]
    bare = [row for row in powered if not has(row, "identification")]
    about = (f"{bare[0].path}.identification",) if bare else ("equipment",)
    yield record(
        "apparatus-plate",
        ("equipment",),
        [(bool(bare), about, "the rig's plate or identification", "la placa o identificación del equipo")],
    )
    yield record(
        "method",
        ("equipment",),
        [
            every(
                root,
                "equipment",
                "method",
                "the method of each piece of equipment",
                "el método de cada equipo",
            )
        ],
    )


def product_lines(facts: Facts) -> Iterator[Said]:
    for subject in facts.subjects["products"].subjects:
        product, path = subject.roots["product"], subject.path
        amount = (f"{path}.amount",)
        asked = [
            ("product-name", "name", (f"{path}.name",), "the product's name", "el nombre del producto"),
            (
                "registration-number",
                "registration_number",
                (f"{path}.registration_number",),
                "the EPA registration number",
                "el número de registro de la EPA",
            ),
            ("rate", "rate", amount, "the product applied per area", "el producto aplicado por área"),
            (
                "concentration",
                "strength",
                (*amount, f"{path}.active_ingredients"),
                "the strength of the mix",
                "la concentración de la mezcla",
            ),
            ("total-amount", "applied", amount, "the total product applied", "el total de producto aplicado"),
        ]
        for rule, member, about, en, es in asked:
            yield named(record(rule, about, [(not has(product, member), about[:1], en, es)]), subject.name)
        no = ("This line is not an adjuvant.", "Esta línea no es un coadyuvante.")
        about = (f"{path}.kind",)
        yield named(Said("us-wa/record/adjuvant", "not_applicable", about, *no), subject.name)


def people(facts: Facts) -> Iterator[Said]:
    for subject in facts.subjects["people"].subjects:
        person, path = subject.roots["person"], subject.path
        number = some(person, "licences", "number", "the licence number", "el número de licencia")
        about = (f"{path}.licences",)
        yield named(record("applier-licence", about, [(number[0], about, *number[2:])]), subject.name)
        yield named(licence("operator", rows(person, "licences"), about, facts.day), subject.name)


def firm_licence(facts: Facts) -> Said:
    held = rows(facts.root, "firm.licences")
    return licence("commercial-applicator", held, ("firm.licences",), facts.day)


def licence(rule: str, held: list[Branch], about: Names, day: date | None) -> Said:
    for row in held:
        first, last = value(row, "valid_from"), value(row, "valid_to")
        if first <= day <= last:  # type: ignore[operator]
            card = f"{value(row, 'number')} ({value(row, 'authority')}), {first}"
            en = f"The licence is valid on {day}: {card} to {last}."
            es = f"La licencia es válida el {day}: {card} a {last}."
            return Said(f"us-wa/licence/{rule}", "met", (f"{row.path}.valid_to",), en, es)
    en = f"No licence valid on {day} (us-wa); on the record: none."
    es = f"Ninguna licencia válida el {day} (us-wa); en el registro: ninguna."
    return Said(f"us-wa/licence/{rule}", "not_met", about, en, es)


def same_day(facts: Facts) -> Said:
    recorded = value(facts.root, "timing.recorded_at")
    assert facts.day
    assert isinstance(recorded, datetime)
    due = datetime.combine(facts.day, time(23, 59, 59), facts.local(recorded).tzinfo)
    done, by = f"{facts.local(recorded):%Y-%m-%d %H:%M}", f"{due:%Y-%m-%d %H:%M}"
    if recorded <= due:
        en = f"Done {done}, in time (due {by})."
        es = f"Hecho el {done}, a tiempo (plazo: {by})."
        return Said("us-wa/deadline/same-day", "met", ("timing.recorded_at",), en, es)
    en = f"Done {done}; RCW 17.21.100(2)(a) wanted it by {by}."
    es = f"Hecho el {done}; RCW 17.21.100(2)(a) lo exigía a más tardar el {by}."
    return Said("us-wa/deadline/same-day", "not_met", ("timing.recorded_at",), en, es)


def seven_years(facts: Facts) -> Said:
    assert facts.day
    until = facts.day.replace(year=facts.day.year + 7)
    en, es = f"Keep the record until {until}.", f"Guarde el registro hasta el {until}."
    return Said("us-wa/retention/seven-years", "not_applicable", ("timing.started_at",), en, es)


def named(said: Said, name: str) -> Said:
    return Said(said.rule, said.outcome, said.about, f"{name}: {said.en}", f"{name}: {said.es}")
