"""Conditions as a phone asks them: the same closed form, without what only the server can answer. Pure.

What hangs on the firm's answers and on the context is answered here, for the crew types none of it. A condition
that reads anything else which the phone does not work out is left to the server, with the whole rule.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.conditions import read_condition
from compliance.rulebook.facts import Facts, Scope, Subject
from compliance.rulebook.reading import Params, Setting
from compliance.rulebook.vocabulary import Term, read_path
from shared.folded import folded

Json = dict[str, Any]

WORKED_OUT = (
    "applied", "restricted_use", "products", "readings", "readings_between", "applicators", "mixers", "helpers",
    "surfaces",
)  # fmt: skip
"""Facts under `treatment` that the phone works out as the server does."""
_COMPUTED = {
    "product": ("applied", "rate", "strength"),
    "mix": ("area", "coverage", "mixed", "treated"),
    "person": ("supervises", "led", "sprayed_restricted", "mixed_restricted"),
}
_OF_SURFACES = ("only_exempt", "only_granules")
_COMPARED = ("word", "text", "yes_no")


class LeftToServerError(Exception):
    """What can't be told on a phone."""


@dataclass(frozen=True)
class Answers:
    """What the server knows that the crew does not type: `questions` are a pack's, with their answers."""

    facts: Facts
    judges: str
    questions: Mapping[str, tuple[str, ...]]

    def truth(self, raw: Json) -> Json:
        setting = Setting(VOCABULARY, self.judges, self.questions)
        condition = read_condition(Params(raw, setting), raw)
        nothing = Subject("", {}, lambda quantity, unit: ())
        return {"truth": condition(Scope.of(self.facts, nothing)).truth}


def refuse_computed(path: str) -> str:
    """The path of a fact that the phone can look up. Raises LeftToServerError."""
    root, *names = path.split(".")
    if root == "context" or (root == "treatment" and names[:1] and names[0] not in WORKED_OUT):
        raise LeftToServerError(path)
    if root == "mix" and names[:1] == ["products"]:
        root, names = "product", names[1:]
    if names and (names[0] in _COMPUTED.get(root, ()) or names[-1] in _OF_SURFACES):
        raise LeftToServerError(path)
    return path


def on_the_phone(raw: Json, roots: Mapping[str, Term], answers: Answers) -> Json:
    """The condition as the phone asks it. Raises LeftToServerError."""
    for form in ("all", "any"):
        if form in raw:
            return {form: [on_the_phone(part, roots, answers) for part in raw[form]]}
    if "not" in raw:
        return {"not": on_the_phone(raw["not"], roots, answers)}
    if "question" in raw:
        return answers.truth(raw)
    for form in ("some", "every"):
        if form in raw:
            if raw[form].split(".")[0] == "context":
                return answers.truth(raw)
            item = read_path(raw[form], roots, lists=True).term.item
            inner = {**roots, "item": item} if item else roots
            return {form: refuse_computed(raw[form]), "has": on_the_phone(raw["has"], inner, answers)}
    return _fact(raw, roots, answers)


def _fact(raw: Json, roots: Mapping[str, Term], answers: Answers) -> Json:
    path = raw["fact"]
    if path.split(".")[0] == "context":
        return answers.truth(raw)
    asked = next(key for key in raw if key not in ("fact", "among"))
    refuse_computed(path)
    if asked == "present":
        return {"fact": path, "present": raw["present"] == "yes"}
    term = read_path(path, roots, lists=True).term
    if asked not in ("is", "is one of") or term.sort not in _COMPARED:
        raise LeftToServerError(path)
    values = raw[asked] if asked == "is one of" else [raw[asked]]
    if term.sort == "yes_no":
        return {"fact": path, "is": [value == "yes" for value in values]}
    if term.sort == "text":
        return {"fact": path, "folded": [folded(str(value)) for value in values]}
    return {"fact": path, "is": list(values), **({"among": raw["among"]} if "among" in raw else {})}
