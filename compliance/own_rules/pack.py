"""A firm's rules as plain data and as a rule pack of its own layer."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.own_rules.conditions import Group, condition_of, groups_from_json
from compliance.plain_words.conditions import Conditions
from compliance.rulebook.errors import RuleError
from compliance.rulebook.pack import Pack, read_pack
from shared.wording import LANGUAGES, Wording, fill

Json = dict[str, Any]
FIRM_PACK = "firm"
_CAUTION = Wording(
    "The firm's own policy; it adds to law and label and never loosens them.",
    "Norma propia de la empresa; se suma a la ley y a la etiqueta y nunca las relaja.",
)
_OTHERWISE = Wording(
    "This rule of the firm is only for this: {when}.", "Esta regla de la empresa es solo para: {when}."
)


@dataclass(frozen=True)
class OwnExample:
    """A base situation, the members changed in it, and the outcome that the firm expects."""

    says: str
    situation: str
    expects: str
    changes: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class OwnRule:
    """A rule as it was typed. `params` are those of its kind, `key` its number, which is never used again.

    `join` says whether all or any of the groups must hold. `start` and `until` are days (half-open), or empty.
    """

    key: str
    title: str
    why: str
    kind: str
    params: Mapping[str, Any]
    level: str = "advised"
    start: str = ""
    until: str = ""
    join: str = "all"
    groups: tuple[Group, ...] = ()
    examples: tuple[OwnExample, ...] = ()

    @property
    def id(self) -> str:
        return f"firm/{self.key}"

    @property
    def is_of_some_products(self) -> bool:
        """Whether it asks anything of the products that are used."""
        return any(row.path.startswith("mixes.products") for group in self.groups for row in group.rows)

    def as_json(self) -> Json:
        return asdict(self)

    @classmethod
    def from_json(cls, data: Json) -> "OwnRule":
        groups, join = groups_from_json(data)
        examples = tuple(
            OwnExample(**{**one, "changes": tuple((path, value) for path, value in one["changes"])})
            for one in data["examples"]
        )
        kept = {name: value for name, value in data.items() if name != "rows"}
        return cls(**{**kept, "groups": groups, "join": join, "examples": examples})


def own_pack(rules: Sequence[OwnRule], version: str, firm: str, saved_on: date) -> Pack | None:
    """The rules as one pack; None without any. Raises RuleError, whose place is `rules/own.yaml`, `rules`,
    the number of the rule, and the key in it."""
    if not rules:
        return None
    source = {"cite": "firm policy", "title": firm, "read": "written by the firm"}
    head = {
        "pack": FIRM_PACK,
        "version": version,
        "place": "firm",
        "authority": {"en": firm, "es": firm},
        "title": {"en": "Firm policy", "es": "Norma de la empresa"},
        "caution": {"en": _CAUTION.en, "es": _CAUTION.es},
        "reviewed": {"on": saved_on.isoformat(), "by_means": "read"},
        "sources": {"firm": source},
    }
    raw = []
    for number, rule in enumerate(rules):
        try:
            raw.append(raw_rule(rule))
        except RuleError as error:
            raise error.within("rules/own.yaml", "rules", number) from None
    return read_pack(head, {"own": {"rules": raw}}, VOCABULARY, "firm")


def raw_rule(rule: OwnRule) -> Json:
    """The rule in the format of a rule pack. Raises RuleError for a condition that can't be one."""
    why = rule.why or rule.title
    raw: Json = {
        "id": rule.id,
        "kind": rule.kind,
        "title": {"en": rule.title, "es": rule.title},
        "reason": {"en": why, "es": why},
        "source": "firm",
        "cite": f"firm policy, {rule.title}",
        "text": "found",
        "level": rule.level,
        "stage": _stage(rule),
        "judges": _judges(rule),
        **rule.params,
    }
    raw |= {name: day for name, day in (("from", rule.start), ("until", rule.until)) if day}
    if rule.groups:
        when = condition_of(rule.groups, rule.join)
        raw |= {"when": when, "otherwise": _otherwise(when)}
    return raw


def _judges(rule: OwnRule) -> str:
    """What the rule is asked of: the widest thing that its kind and quantity allow."""
    if rule.kind == "limit":
        measure = VOCABULARY.measures.get(str(rule.params.get("quantity")))
        return "document" if measure is None or "document" in measure.judged_on else "products"
    if rule.kind == "interval":
        return "products" if "between" in rule.params else "document"
    return "people" if rule.params.get("holder") == "person" else "document"


def _stage(rule: OwnRule) -> str:
    return "before" if rule.kind in ("licence", "protection") else "during"


def _otherwise(when: Json) -> dict[str, str]:
    roots = VOCABULARY.roots("document")
    said = {language: Conditions(roots, {}, language).point(when).flat for language in LANGUAGES}
    return {language: fill(_OTHERWISE, {"when": said[language]}, language) for language in LANGUAGES}
