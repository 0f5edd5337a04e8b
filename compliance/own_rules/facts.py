"""The facts that a firm may choose from, out of the vocabulary: flat paths, `[]` after a list."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.vocabulary import Term
from shared.wording import Wording

_NOT_FOR_RULES = ("id", "schema", "digest", "context", "replaces")
_NO_NAME = Wording("", "")


@dataclass(frozen=True)
class Choice:
    """One fact: its path, its type, what a person calls it and the part of the record that it stands in."""

    path: str
    term: Term
    labels: tuple[Wording, ...]

    def say(self, language: str) -> str:
        """`Site › County`."""
        return " › ".join(label.say(language) for label in self.labels if label.say(language))

    @property
    def group(self) -> Wording:
        return self.labels[0]


@cache
def choices() -> Mapping[str, Choice]:
    """All facts by path, in the order of the record; lists, too, which can only be there or not."""
    names = VOCABULARY.document.members.items()
    ordered = sorted(names, key=lambda named: named[0] != "treatment")
    found = [one for name, term in ordered if name not in _NOT_FOR_RULES for one in _walk(name, term, ())]
    return {choice.path: choice for choice in found}


def _walk(path: str, term: Term, above: tuple[Wording, ...]) -> Iterator[Choice]:
    treatment = Wording("The treatment as a whole", "El tratamiento en conjunto")
    label = treatment if path == "treatment" else term.label or _NO_NAME
    labels = (*above, label)
    if term.sort == "group":
        yield from _members(path, term, labels)
    elif term.sort == "list":
        yield Choice(path, term, labels)
        if term.item and term.item.sort != "group":
            yield Choice(f"{path}[]", term.item, labels)
        elif term.item and "[]" not in path:
            yield from _members(f"{path}[]", term.item, labels)
    else:
        yield Choice(path, term, labels)


def _members(path: str, term: Term, labels: tuple[Wording, ...]) -> Iterator[Choice]:
    for name, member in term.members.items():
        if name in _NOT_FOR_RULES:
            continue
        if name == "products":
            yield from _walk(f"{path.removesuffix('[]')}.{name}", member, labels)
        elif not (member.sort == "list" and "[]" in path):
            yield from _walk(f"{path}.{name}", member, labels)


def typed(term: Term, text: str) -> str:
    """A typed value as a rule holds it: a word of a closed list by its name in either language, too."""
    said = text.strip()
    yes_no = {"yes": Wording("yes", "sí"), "no": Wording("no", "no")}
    words = term.words if term.sort == "word" else yes_no if term.sort == "yes_no" else {}
    for word, wording in words.items():
        if said.casefold() in (word, wording.en.casefold(), wording.es.casefold()):
            return word
    return said
