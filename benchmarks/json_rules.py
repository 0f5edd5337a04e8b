"""The record duties of one state against the same duties as rules of a general JSON rule library.

The library is asked less: its rules say true or false, with no units, no unknown, no members named, no
sentence. It starts from plain JSON that already holds what the engine's facts derive.
"""

import json
from collections.abc import Mapping
from typing import Any

from json_logic import jsonLogic

from benchmarks.timing import Ratio, compare
from compliance.facts_reader import VOCABULARY
from compliance.pack_reader import registered_packs
from compliance.rulebook.evaluate import judge
from compliance.rulebook.facts import Branch, Facts, Items, Leaf, Node
from compliance.rulebook.pack import Pack, read_pack

STATE = "us-wa"
Json = dict[str, Any]
WORDS = {"yes": True, "no": False}


def ratio(facts: Facts) -> Ratio:
    pack, data = of_documents(STATE), plain(facts.root)
    rules = {rule["id"]: in_logic(rule, topic) for topic in topics_of(pack) for rule in topic["rules"]}
    assert by_library(rules, data) == by_engine(pack, facts)
    return compare(
        f"{len(rules)} record duties of one state",
        lambda: judge([pack], facts, VOCABULARY),
        "a JSON rule library, true or false only",
        lambda: by_library(rules, data),
    )


def by_engine(pack: Pack, facts: Facts) -> dict[str, bool]:
    """Of the rules that apply, whether each is met."""
    found = judge([pack], facts, VOCABULARY).findings
    return {one.rule: one.outcome == "met" for one in found if one.outcome != "not_applicable"}


def by_library(rules: Mapping[str, tuple[Json, Json]], data: Json) -> dict[str, bool]:
    return {name: bool(jsonLogic(met, data)) for name, (when, met) in rules.items() if jsonLogic(when, data)}


def of_documents(name: str) -> Pack:
    """The pack with those of its record rules that judge the document."""
    (whole,) = (pack for pack in registered_packs() if pack.id == name)
    content = json.loads(whole.content)
    topics = {}
    for topic, raw in content["rules"].items():
        chosen = [rule for rule in raw["rules"] if rule["kind"] == "record" and rule["judges"] == "document"]
        if chosen:
            topics[topic] = {**raw, "rules": chosen}
    return read_pack(content["pack"], topics, VOCABULARY)


def topics_of(pack: Pack) -> list[Json]:
    return list(json.loads(pack.content)["rules"].values())


def in_logic(rule: Json, topic: Json) -> tuple[Json, Json]:
    """A rule's conditions, and what it asks for, as rules of the library."""
    conditions = [part["when"] for part in (topic, rule) if "when" in part]
    return {"and": [True, *map(condition, conditions)]}, {"and": [asked(ask) for ask in rule["asks"]]}


def asked(ask: Json) -> Json:
    paths = ask.get("all_of") or ask.get("one_of") or [ask["path"]]
    stated: Json = {"or" if "one_of" in ask else "and": [there(path) for path in paths]}
    if "unless" in ask:
        stated = {"or": [stated, condition(ask["unless"])]}
    if "some" in ask:
        return {"some": [{"var": ask["some"]}, stated]}
    if "every" in ask:
        return {"and": [there(ask["every"]), {"all": [{"var": ask["every"]}, stated]}]}
    return stated


def condition(raw: Json) -> Json:
    if "all" in raw or "any" in raw:
        name = "all" if "all" in raw else "any"
        return {"and" if name == "all" else "or": [condition(part) for part in raw[name]]}
    if "not" in raw:
        return {"!": [condition(raw["not"])]}
    if "has" in raw:
        name = "some" if "some" in raw else "all"
        return {name: [{"var": raw["some" if name == "some" else "every"]}, condition(raw["has"])]}
    if "present" in raw:
        return there(raw["fact"]) if raw["present"] == "yes" else {"!": [there(raw["fact"])]}
    wanted = WORDS.get(raw["is"], raw["is"])
    return {"==": [{"var": name_of(raw["fact"])}, wanted]}


def there(path: str) -> Json:
    return {"!!": [{"var": name_of(path)}]}


def name_of(path: str) -> str:
    """Within a list the library's paths begin at the item."""
    return path.removeprefix("item.")


def plain(node: Node) -> Any:
    """Facts as JSON values. A quantity is text: what is asked of it is only whether it is there."""
    if isinstance(node, Branch):
        return {name: plain(member) for name, member in node.members.items()}
    if isinstance(node, Items):
        return [plain(item) for item in node.items]
    return scalar(node)


def scalar(leaf: Leaf) -> Any:
    value = leaf.value
    return value if isinstance(value, bool | None) else str(value)
