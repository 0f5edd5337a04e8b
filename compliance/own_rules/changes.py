"""What a new version of a firm's rule changes in it, in words. Pure."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from compliance.own_rules.pack import OwnRule, own_pack
from compliance.plain_words import rule_sheets
from compliance.plain_words.examples import OUTCOMES
from shared.wording import Catalogue, Wording

NAMES: Catalogue = {
    "title": Wording("Title", "Título"),
    "asks": Wording("What it asks", "Qué pide"),
    "applies": Wording("When it applies", "Cuándo se aplica"),
    "level": Wording("Level", "Nivel"),
    "from": Wording("For treatments from", "Para tratamientos desde"),
    "until": Wording("Until", "Hasta"),
    "why": Wording("Why your firm asks it", "Por qué lo pide su empresa"),
    "examples": Wording("Examples", "Ejemplos"),
}
_LEVELS: Catalogue = {
    "required": Wording("required", "obligatorio"),
    "advised": Wording("advised", "recomendado"),
}
_ALWAYS = Wording("always", "siempre")


@dataclass(frozen=True)
class Change:
    """One part of a rule, as it was and as it is now; a part that is not there is empty."""

    part: str
    before: str
    after: str


def changes(before: OwnRule | None, after: OwnRule | None, firm: str, language: str) -> list[Change]:
    """The parts in which two states of a rule differ; all of it where one of them is not there."""
    old, new = (_told(rule, firm, language) if rule else {} for rule in (before, after))
    return [
        Change(name.say(language), old.get(part, ""), new.get(part, ""))
        for part, name in NAMES.items()
        if old.get(part, "") != new.get(part, "")
    ]


def _told(rule: OwnRule, firm: str, language: str) -> Mapping[str, str]:
    pack = own_pack([rule], "-", firm, date.min)
    assert pack is not None  # noqa: S101 - one rule makes a pack
    (sheet,) = rule_sheets(pack, language)
    examples = (f"{one.says}: {OUTCOMES[one.expects].say(language)}" for one in rule.examples)
    return {
        "title": rule.title,
        "asks": " ".join(point.flat for asked in sheet.asked for point in asked.points),
        "applies": "; ".join(each.when.flat for each in sheet.applies) or _ALWAYS.say(language),
        "level": _LEVELS[rule.level].say(language),
        "from": rule.start,
        "until": rule.until,
        "why": rule.why,
        "examples": "; ".join(examples),
    }
