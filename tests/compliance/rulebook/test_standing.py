"""Rules as they stand on a day, and the conditions that they share."""

from dataclasses import replace
from datetime import date
from typing import Any

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.rulebook.evaluate import judge
from compliance.rulebook.facts import Branch
from compliance.rulebook.pack import Pack
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.patched import load
from tests.compliance.rulebook.builders import TEXT, WIND, pack, rule

PHONE: dict[str, Any] = {
    "kind": "record",
    "asks": [{"words": {"en": "phone", "es": "teléfono"}, "path": "customer.phone"}],
}
OUTDOORS: dict[str, Any] = {"when": {"fact": "site.indoors", "is": "no"}, "otherwise": TEXT}
DATED: dict[str, Any] = {
    **WIND,
    "max": None,
    "cite": None,
    "values": {
        "2019-01-01": {"max": "15 mph", "cite": "(a)"},
        "2024-07-01": {"max": "10 mph", "cite": "(a), amended"},
        "2027-01-01": "expected",
    },
}


def stated(one: Pack, day: date | None) -> list[tuple[str, str]]:
    """The rules that stand on a day, by their ids, each with its paragraph."""
    return [(standing.basis.rule, standing.basis.cite) for standing in one.timetable.on(day)]


def test_each_day_has_the_rules_in_force_with_the_values_of_that_day() -> None:
    ended = rule(id="xx/ended", from_="2020-01-01", until_="2025-01-01", **PHONE)
    one = pack(rule(**DATED), ended)
    cite = ended["cite"]
    assert stated(one, date(2018, 12, 31)) == []
    assert stated(one, date(2019, 1, 1)) == [("xx/wind", "(a)")]
    assert stated(one, date(2024, 6, 30)) == [("xx/ended", cite), ("xx/wind", "(a)")]
    assert stated(one, date(2024, 7, 1)) == [("xx/ended", cite), ("xx/wind", "(a), amended")]
    assert stated(one, date(2025, 1, 1)) == [("xx/wind", "(a), amended")]
    assert stated(one, date(2027, 1, 1)) == [("xx/wind", "(a), amended")]


def test_on_an_unknown_day_every_rule_stands_with_the_last_that_it_states() -> None:
    ended = rule(id="xx/ended", until_="2025-01-01", **PHONE)
    assert stated(pack(rule(**DATED), ended), None) == [
        ("xx/ended", ended["cite"]),
        ("xx/wind", "(a), amended"),
    ]


def test_rules_of_one_pack_that_state_the_same_condition_share_it() -> None:
    one, other = pack(
        rule(id="xx/one", **PHONE, **OUTDOORS), rule(id="xx/two", judges="people", **PHONE, **OUTDOORS)
    ).rules
    assert one.clauses[0] is other.clauses[0]
    assert one.clauses[0].of_treatment


def test_a_condition_on_the_thing_that_is_judged_is_not_one_of_the_treatment() -> None:
    tasks = {"when": {"some": "person.tasks", "has": {"fact": "item", "is": "sprayed"}}, "otherwise": TEXT}
    negated = {"when": {"not": {"any": [OUTDOORS["when"], tasks["when"]]}}, "otherwise": TEXT}
    for when in (tasks, negated):
        (one,) = pack(rule(judges="people", **PHONE, **when)).rules
        assert not one.clauses[0].of_treatment


def test_a_shared_condition_is_asked_once_for_all_rules_and_things() -> None:
    facts = read_facts(
        read(load("facts/roof-in-september.json")),
        read_context(load("facts/roof-in-september.context.json")),
    )
    asked: list[str] = []
    site = facts.root.members["site"]
    assert isinstance(site, Branch)

    class Counted(dict[str, Any]):
        def __getitem__(self, name: str) -> Any:
            asked.append(name)
            return super().__getitem__(name)

    members = {**facts.root.members, "site": Branch("site", Counted(site.members))}
    counted = replace(facts, root=Branch("", members))
    rules = [
        rule(id=f"xx/rule-{number}", judges=judges, **PHONE, **OUTDOORS)
        for number, judges in enumerate(("document", "people", "surfaces", "document"))
    ]
    judged = judge([pack(*rules)], counted, VOCABULARY)
    assert len(judged.findings) >= len(rules)
    assert asked == ["indoors"]
