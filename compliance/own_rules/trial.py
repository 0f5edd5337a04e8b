"""Tries a rule as it stands: is it one, does it loosen a law, and do its examples come out as expected?"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from compliance.example_patches import ExampleError
from compliance.own_rules.facts import typed
from compliance.own_rules.pack import OwnExample, OwnRule, own_pack
from compliance.own_rules.possible import refuse_impossible
from compliance.pack_examples import Example, seen
from compliance.plain_words import RuleSheet, rule_sheets
from compliance.plain_words.examples import OUTCOMES, SITUATIONS, term_at
from compliance.rulebook.errors import RuleError
from compliance.rulebook.layers import refuse_loosening
from compliance.rulebook.pack import Pack
from records.document.faults import DocumentFaults


@dataclass(frozen=True)
class Tried:
    """One example: what came out, in words, and whether it was expected. `fault`: why nothing came out."""

    example: OwnExample
    situation: str
    expected: str
    outcome: str = ""
    message: str = ""
    right: bool = False
    fault: str = ""


@dataclass(frozen=True)
class Trial:
    """What came of trying a rule. `fault` says why it is none, or what it loosens; `key` is the member, for a
    limit that loosens another the side of its bound."""

    sheet: RuleSheet | None = None
    tried: tuple[Tried, ...] = ()
    fault: str = ""
    key: str = ""

    @property
    def passed(self) -> bool:
        return not self.fault and all(one.right for one in self.tried)


def try_rule(rule: OwnRule, above: Sequence[Pack], firm: str, day: date, language: str) -> Trial:
    """Read the rule, set it against the laws and labels `above` it, and run its examples."""
    try:
        pack = own_pack([rule], "-", firm, day)
        assert pack is not None  # noqa: S101 - one rule makes a pack
        sheet = rule_sheets(pack, language)[0]
    except RuleError as error:
        key = next((str(step) for step in error.place[3:] if isinstance(step, str)), "")
        return Trial(fault=error.say(language), key=key)
    try:
        refuse_impossible(pack)
        refuse_loosening(pack, above)
    except RuleError as error:
        return Trial(fault=error.say(language), key=str(error.place[-1]))
    return Trial(sheet, tuple(_try(one, rule, pack, language) for one in rule.examples))


def _try(example: OwnExample, rule: OwnRule, pack: Pack, language: str) -> Tried:
    facts = {"from": example.situation}
    facts |= {path: _typed(path, value) for path, value in example.changes}
    situation = SITUATIONS[example.situation].say(language)
    expected = OUTCOMES[example.expects].say(language)
    try:
        check = Example(pack, example.says, None, facts, {}, {}).check()
    except ExampleError as error:
        return Tried(example, situation, expected, fault=error.say(language))
    except DocumentFaults as error:
        return Tried(example, situation, expected, fault=error.faults[0].say(language))
    outcome = seen(check, rule.id)["outcome"]
    messages = [one.message.say(language) for one in check.findings if one.rule == rule.id]
    right = outcome == example.expects
    return Tried(example, situation, expected, OUTCOMES[outcome].say(language), " ".join(messages), right)


def _typed(path: str, value: str) -> str:
    term = term_at(path)
    return "null" if not value.strip() else typed(term, value) if term else value
