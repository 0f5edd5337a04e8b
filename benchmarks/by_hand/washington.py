"""Washington's record, licences, deadline and retention by hand."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time

from benchmarks.by_hand.reach import MET, NOT_APPLICABLE, NOT_MET, Hand, Names, has, rows, value, words
from compliance.rulebook.facts import Branch
from compliance.rulebook.kind import Judgement, Listed
from shared.wording import Wording

NO_ADJUVANT = Wording("This line is not an adjuvant.", "Esta línea no es un coadyuvante.")
NO_PERMIT = Wording("The record names no permit.", "El registro no nombra ningún permiso.")
OFFICE = ("firm.address.line1", "firm.address.city", "firm.address.region", "firm.address.postcode")
HOME = ("customer.address.line1", "customer.address.city")
APPLICATOR = ("commercial applicator", "commercial pesticide applicator")
OPERATOR = ("commercial operator", "commercial pesticide operator", *APPLICATOR)
OF_A_PRODUCT = (
    ("product-name", "name", ("name",), "the product's name", "el nombre del producto"),
    (
        "registration-number",
        "registration_number",
        ("registration_number",),
        "the EPA registration number",
        "el número de registro de la EPA",
    ),
    ("rate", "rate", ("amount",), "the product applied per area", "el producto aplicado por área"),
    (
        "concentration",
        "strength",
        ("amount", "active_ingredients"),
        "the strength of the mix",
        "la concentración de la mezcla",
    ),
    ("total-amount", "applied", ("amount",), "the total product applied", "el total de producto aplicado"),
)


@dataclass
class Asked:
    """One thing that the record must state: the members that do not, and its words."""

    lacking: Names
    en: str
    es: str


def find(hand: Hand) -> None:
    root = hand.root
    for rule, about, asked in whole_record(root):
        record(hand, rule, about, asked)
    for line in hand.facts.subjects["products"].subjects:
        product = line.roots["product"]
        assert value(product, "kind") == "pesticide" and value(line.roots["mix"], "form") == "tank"
        for rule, member, names, en, es in OF_A_PRODUCT:
            about = tuple(f"{line.path}.{name}" for name in names)
            lacking = () if has(product, member) else (f"{line.path}.{member}",)
            record(hand, rule, about, [Asked(lacking, en, es)], line.name)
        hand.let_be("us-wa/record/adjuvant", (f"{line.path}.kind",), NO_ADJUVANT, line.name)
    assert not has(root, "permits")
    hand.let_be("us-wa/record/permit", ("permits",), NO_PERMIT)
    for one in hand.facts.subjects["people"].subjects:
        person, about = one.roots["person"], (f"{one.path}.licences",)
        assert "sprayed" in words(person, "tasks") and not has(person, "supervised_by")
        number = some(person, "licences", "number", "the licence number", "el número de licencia")
        record(hand, "applier-licence", about, [number], one.name)
        licence(hand, "operator", rows(person, "licences"), OPERATOR, one.name)
    licence(hand, "commercial-applicator", rows(root, "firm.licences"), APPLICATOR)
    same_day(hand)
    seven_years(hand)


def record(hand: Hand, rule: str, about: Names, asked: list[Asked], whose: str = "") -> None:
    """Met unless one of the things asked for is lacking."""
    wanting = [one for one in asked if one.lacking]
    if not wanting:
        hand.say(f"us-wa/record/{rule}", Judgement(MET, "record/met", about), whose)
        return
    paths = tuple(dict.fromkeys(path for one in wanting for path in one.lacking))
    said = Listed(tuple(Wording(one.en, one.es) for one in wanting))
    refused = Judgement(NOT_MET, "record/not_met", paths, {"asked": said}, absence=True)
    hand.say(f"us-wa/record/{rule}", refused, whose)


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
    kinds = every(root, "surfaces", "kind", "the kind of each surface", "el tipo de cada superficie")
    yield "site", ("surfaces",), [kinds]
    areas = every(
        root,
        "surfaces",
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
        asked.append(Asked(() if readings and not lacking else (*lacking[:1],) or about, en, es))
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


def licence(hand: Hand, rule: str, held: list[Branch], kinds: Names, whose: str = "") -> None:
    """Met by a licence that is valid that day; here there is one."""
    day = hand.facts.day
    assert day
    for card in held:
        first, last = value(card, "valid_from"), value(card, "valid_to")
        assert isinstance(first, date) and isinstance(last, date)
        right = value(card, "authority") == "us-wa" and str(value(card, "kind")).casefold() in kinds
        if right and first <= day <= last:
            said = f"{value(card, 'number')} ({value(card, 'authority')}), {first}"
            blanks = {"day": str(day), "licence": Wording(f"{said} to {last}", f"{said} a {last}")}
            about = (f"{card.path}.valid_to",)
            hand.met(f"us-wa/licence/{rule}", "licence/met", about, blanks, whose=whose)
            return
    raise AssertionError("no valid licence is not written out by hand")


def same_day(hand: Hand) -> None:
    recorded, day = value(hand.root, "timing.recorded_at"), hand.facts.day
    assert day and isinstance(recorded, datetime)
    local = hand.facts.local(recorded)
    due = datetime.combine(day, time(23, 59, 59), local.tzinfo)
    in_time = recorded <= due
    blanks = {"done": f"{local:%Y-%m-%d %H:%M}", "due": f"{due:%Y-%m-%d %H:%M}"}
    judgement = Judgement(
        MET if in_time else NOT_MET,
        "deadline/met" if in_time else "deadline/late",
        ("timing.recorded_at",),
        blanks,
        recorded.isoformat(),
        due.isoformat(),
        due,
    )
    hand.say("us-wa/deadline/same-day", judgement)


def seven_years(hand: Hand) -> None:
    assert hand.facts.day
    until = hand.facts.day.replace(year=hand.facts.day.year + 7)
    kept = Judgement(
        NOT_APPLICABLE, "retention/keep", ("timing.started_at",), {"until": str(until)}, keep_until=until
    )
    hand.say("us-wa/retention/seven-years", kept)
