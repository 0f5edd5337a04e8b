"""A firm's rules as plain data and as a rule pack of its own layer."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.own_rules.facts import choices, typed
from compliance.plain_words.conditions import Conditions
from compliance.rulebook.conditions import read_condition
from compliance.rulebook.errors import RuleError
from compliance.rulebook.pack import Pack, read_pack
from compliance.rulebook.reading import Params, Setting
from shared.wording import LANGUAGES, Wording, fill

Json = dict[str, Any]
COMPARISONS = ("is", "is not", "at least", "at most", "present", "absent")
_CAUTION = Wording(
    "The firm's own policy; it adds to law and label and never loosens them.",
    "Norma propia de la empresa; se suma a la ley y a la etiqueta y nunca las relaja.",
)
_OTHERWISE = Wording(
    "This rule of the firm is only for this: {when}.", "Esta regla de la empresa es solo para: {when}."
)


@dataclass(frozen=True)
class Row:
    """One comparison of a condition; `asks` is one of `COMPARISONS`."""

    path: str
    asks: str
    value: str = ""


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

    `join` says whether all or any of the rows must hold. `start` and `until` are days (half-open), or empty.
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
    rows: tuple[Row, ...] = ()
    examples: tuple[OwnExample, ...] = ()

    @property
    def id(self) -> str:
        return f"firm/{self.key}"

    def as_json(self) -> Json:
        return asdict(self)

    @classmethod
    def from_json(cls, data: Json) -> "OwnRule":
        rows = tuple(Row(**row) for row in data["rows"])
        examples = tuple(
            OwnExample(**{**one, "changes": tuple((path, value) for path, value in one["changes"])})
            for one in data["examples"]
        )
        return cls(**{**data, "rows": rows, "examples": examples})


def own_pack(rules: Sequence[OwnRule], version: str, firm: str, saved_on: date) -> Pack | None:
    """The rules as one pack; None without any. Raises RuleError, whose place is `rules/own.yaml`, `rules`,
    the number of the rule, and the key in it."""
    if not rules:
        return None
    source = {"cite": "firm policy", "title": firm, "read": "written by the firm"}
    head = {
        "pack": "firm",
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
    if rule.rows:
        when = _when(rule)
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


def _when(rule: OwnRule) -> Json:
    parts = []
    for number, row in enumerate(rule.rows):
        if row.path not in choices():
            raise RuleError("rule/unknown_word", {"got": row.path, "allowed": "-"}, ("when", number))
        parts.append(_comparison(row))
    when = parts[0] if len(parts) == 1 else {rule.join: parts}
    read_condition(Params({}, Setting(VOCABULARY, "document", {})), when)
    return when


def _comparison(row: Row) -> Json:
    """The row as a condition; over the items of a list: at least one of them."""
    term = choices()[row.path].term
    path, _, within = row.path.partition("[]")
    fact = f"item{within}" if "[]" in row.path else row.path
    if row.asks in ("present", "absent"):
        condition: Json = {"fact": fact, "present": "yes" if row.asks == "present" else "no"}
    else:
        asks = "is" if row.asks == "is not" else row.asks
        condition = {"fact": fact, asks: typed(term, row.value)}
    condition = {"some": path, "has": condition} if fact.startswith("item") else condition
    return {"not": condition} if row.asks == "is not" else condition


def _otherwise(when: Json) -> dict[str, str]:
    roots = VOCABULARY.roots("document")
    said = {language: Conditions(roots, {}, language).point(when).flat for language in LANGUAGES}
    return {language: fill(_OTHERWISE, {"when": said[language]}, language) for language in LANGUAGES}
