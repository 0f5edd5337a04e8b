"""Washington's record, licences, deadline and retention by hand."""

from datetime import date, datetime, time

from benchmarks.by_hand.reach import MET, NOT_APPLICABLE, NOT_MET, Hand, Names, has, rows, value, words
from benchmarks.by_hand.washington_record import Asked, some, whole_record
from compliance.rulebook.facts import Branch
from compliance.rulebook.kind import Judgement, Listed
from shared.wording import Wording

NO_ADJUVANT = Wording("This line is not an adjuvant.", "Esta línea no es un coadyuvante.")
NO_PERMIT = Wording("The record names no permit.", "El registro no nombra ningún permiso.")
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
    each_day = ("timing.finished_at", "timing.started_at")
    hand.met("us-wa/record/each-day", "agreement/no_contradiction", each_day)
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
        mend=Wording("Say why it was late.", "Diga por qué se hizo tarde."),
    )
    hand.say("us-wa/deadline/same-day", judgement)


def seven_years(hand: Hand) -> None:
    assert hand.facts.day
    until = hand.facts.day.replace(year=hand.facts.day.year + 7)
    kept = Judgement(
        NOT_APPLICABLE, "retention/keep", ("timing.started_at",), {"until": str(until)}, keep_until=until
    )
    hand.say("us-wa/retention/seven-years", kept)
