"""Federal rules by hand: protection steps as advice; what binds restricted-use products does not apply."""

from benchmarks.by_hand.reach import NOT_APPLICABLE, NOT_MET, Hand, rows, value, words
from compliance.rulebook.facts import Branch
from compliance.rulebook.kind import Judgement, Listed
from records.document.words import WORD_LISTS
from shared.wording import Blank, Wording

STEPS = WORD_LISTS["step"]
GENERAL_USE = Wording(
    "No restricted-use product was applied.", "No se aplicó ningún producto de uso restringido."
)
CALLED_FOR = {
    "downspouts": (("downspout",), ("downspouts-diverted", "downspouts-plugged", "runoff-collected")),
    "storm-drains": (("storm-drain",), ("storm-drains-covered", "drains-bermed", "runoff-collected")),
    "ponds": (("pond",), ("ponds-covered", "overspray-shielded", "drains-bermed", "runoff-collected")),
    "open-water": (
        ("stream", "lake", "shore", "wetland", "well"),
        ("overspray-shielded", "drains-bermed", "runoff-collected"),
    ),
    "rain-barrels": (("rain-barrel",), ("rain-barrels-disconnected", "downspouts-plugged")),
    "plants": (("planting-bed", "vegetable-garden"), ("plants-covered", "plants-pre-wet", "plants-rinsed")),
    "air-intakes": (("air-intake",), ("air-intakes-closed",)),
    "play-areas": (("play-area",), ("toys-and-furniture-moved", "area-closed-off")),
    "animals": (("animal-area",), ("animals-brought-in", "area-closed-off")),
}
OF_THE_TREATMENT = (
    "us/record/area",
    "us/record/customer",
    "us/record/location",
    "us/record/site",
    "us/record/time",
    "us/restricted-use/customer-copy",
    "us/restricted-use/kept",
)
OF_PEOPLE = (
    "us/record/certified-applicator",
    "us/record/noncertified-applicator",
    "us/record/noncertified-training",
    "us/restricted-use/certified",
    "us/restricted-use/mixer",
)
OF_PRODUCTS = ("us/record/product-name", "us/record/registration-number", "us/record/total-amount")


def find(hand: Hand) -> None:
    restricted_use(hand)
    for line in hand.facts.subjects["products"].subjects:
        about = (f"{line.path}.registration_number",)
        hand.met("us/agreement/number", "agreement/no_contradiction", about, whose=line.name)
    features, taken = rows(hand.root, "site.features"), rows(hand.root, "protection")
    for name, (kinds, steps) in CALLED_FOR.items():
        protection(
            hand,
            f"us/protection/{name}",
            [one for one in features if value(one, "kind") in kinds],
            steps,
            taken,
        )


def restricted_use(hand: Hand) -> None:
    assert value(hand.root, "treatment.restricted_use") is False
    lines = hand.facts.subjects["products"].subjects
    about = tuple(f"{line.path}.restricted_use" for line in lines)
    for rule in OF_THE_TREATMENT:
        hand.let_be(rule, about, GENERAL_USE)
    for person in hand.facts.subjects["people"].subjects:
        for rule in OF_PEOPLE:
            hand.let_be(rule, about, GENERAL_USE, person.name)
    for line in lines:
        for rule in OF_PRODUCTS:
            hand.let_be(rule, about, GENERAL_USE, line.name)


def protection(
    hand: Hand, rule: str, calling: list[Branch], steps: tuple[str, ...], taken: list[Branch]
) -> None:
    if not calling:
        hand.say(rule, Judgement(NOT_APPLICABLE, "protection/nothing", ("site.features",)))
        return
    unserved = [one for one in calling if not any(serves(step, steps, one) for step in taken)]
    if not unserved:
        done = {value(step, "step") for step in taken}
        said = Listed(tuple(STEPS[step] for step in steps if step in done))
        hand.met(rule, "protection/met", ("protection",), {"steps": said})
        return
    blanks: dict[str, Blank] = {"steps": Listed(tuple(STEPS[step] for step in steps))}
    blanks["what"] = Listed(tuple(str(value(one, "name")) for one in unserved))
    about = ("protection", *(one.path for one in unserved))
    form = "any" if len(steps) > 1 else "all"
    hand.say(rule, Judgement(NOT_MET, f"protection/{form}_of_feature", about, blanks, absence=True))


def serves(step: Branch, steps: tuple[str, ...], feature: Branch) -> bool:
    named = words(step, "features")
    return value(step, "step") in steps and (not named or value(feature, "name") in named)
