"""The vocabulary: which facts there are, of which type. A rule's fact paths are checked against it."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Branch, Items, Leaf, Node, Paths, Scope, member
from shared.wording import Catalogue, Sayable, Wording

Sort = Literal["text", "word", "quantity", "time", "day", "yes_no", "number", "list", "group"]
_LONGEST_PATH = 12


@dataclass(frozen=True)
class Term:
    """The type of a fact. `dimensions` for quantities, `words` for closed lists, `item` for lists,
    `members` for groups; `label` is what a person calls it."""

    sort: Sort
    dimensions: Paths = ()
    words: Catalogue = field(default_factory=dict)
    item: "Term | None" = None
    members: Mapping[str, "Term"] = field(default_factory=dict)
    label: Wording | None = None


@dataclass(frozen=True)
class Measure:
    """A quantity that a limit may judge: its dimensions, what it is judged on, and its name for a person."""

    name: str
    dimensions: Paths
    judged_on: Paths
    label: Wording
    mend: Wording


@dataclass(frozen=True)
class Figures:
    """Two figures that must go together: what they are judged on, and what a person calls the two. `at_most`:
    the first may be less than the second."""

    name: str
    judged_on: str
    label: Wording
    at_most: bool = False


@dataclass(frozen=True)
class Vocabulary:
    """All facts: the document's, those of each sort of subject, the quantities that limits judge, the figures
    that must go together, and the calendars by which business days are counted. `unread` names the members
    that no rule can read but a finding may lack; `what_to_do` says how a member that is missing is mended."""

    document: Term
    subjects: Mapping[str, Mapping[str, Term]]
    measures: Mapping[str, Measure]
    figures: Mapping[str, Figures]
    calendars: Catalogue
    unread: Callable[[str], Sayable | None] = lambda path: None
    what_to_do: Callable[[str], Sayable] = lambda path: Wording("", "")

    def roots(self, judges: str) -> Mapping[str, Term]:
        """The roots of a path in a rule that judges this sort of thing. Raises KeyError."""
        return {**self.document.members, **self.subjects[judges]}

    def label(self, path: str) -> Sayable:
        """What a person calls the member at a full path; the path itself if there is no name for it."""
        term: Term | None = self.document
        for name in re.sub(r"\[\d+\]", "", path).split("."):
            while term and term.sort == "list":
                term = term.item
            term = term.members.get(name) if term else None
        named = term.label if term and term.label else self.unread(path)
        return named or Wording(path, path)


@dataclass(frozen=True)
class FactPath:
    """A fact path that the vocabulary knows. `look` gives the node at the path; a part that is missing makes
    a missing leaf that names the whole path."""

    text: str
    names: Paths
    term: Term
    look: Callable[[Scope], Node] = field(compare=False, repr=False)

    def leaf(self, scope: Scope) -> Leaf:
        """The value at the path. Only for paths to a value (the reader sees to that)."""
        node = self.look(scope)
        return node if isinstance(node, Leaf) else Leaf(None, node_about(node), node_about(node))

    def items(self, scope: Scope) -> Items:
        """The list at the path; a list that is left out has no items and is marked absent."""
        node = self.look(scope)
        if isinstance(node, Items):
            return node
        about = node_about(node)
        return Items((), about, node.lacks if isinstance(node, Leaf) else about, absent=True)


def words_of(path: FactPath, name: str) -> Catalogue:
    """The closed list of a member of a list's items."""
    item = path.term.item
    return item.members[name].words if item else {}


def node_about(node: Node) -> Paths:
    """The members that a node comes from."""
    return (node.path,) if isinstance(node, Branch) else node.about


def read_path(text: str, roots: Mapping[str, Term], *, lists: bool = False) -> FactPath:
    """A fact path as written in a rule; only with `lists` may it run through a list. Raises RuleError."""
    names = tuple(text.split("."))
    if names[0] not in roots or len(names) > _LONGEST_PATH:
        known = ", ".join(sorted(roots))
        raise RuleError("rule/unknown_fact", {"path": text, "name": names[0], "known": known})
    term = roots[names[0]]
    for name in names[1:]:
        if term.sort == "list" and lists and term.item:
            term = term.item
        elif term.sort == "list":
            raise RuleError("rule/through_a_list", {"path": text})
        if name not in term.members:
            known = ", ".join(sorted(term.members)) or "-"
            raise RuleError("rule/unknown_fact", {"path": text, "name": name, "known": known})
        term = term.members[name]
    return FactPath(text, names, term, _looker(names[0], names[1:]))


def _looker(root: str, names: Paths) -> Callable[[Scope], Node]:
    """Looks a path up, straight down the tree where all its parts are objects that are there."""
    is_item = root == "item"

    def look(scope: Scope) -> Node:
        try:
            node: Any = scope.item if is_item else scope.roots[root]
            for name in names:
                node = node.members[name]
        except (AttributeError, KeyError):
            node = None
        return node or _walk(scope.find(root), names)

    if len(names) != 1:
        return look
    (only,) = names

    def look_one_down(scope: Scope) -> Node:
        try:
            node: Any = scope.item if is_item else scope.roots[root]
            found: Node = node.members[only]
        except (AttributeError, KeyError):
            return _walk(scope.find(root), names)
        return found

    return look_one_down


def _walk(node: Node, names: Paths) -> Node:
    for place, name in enumerate(names):
        if isinstance(node, Leaf):
            paths = tuple(".".join((path, *names[place:])) for path in node.lacks or node.about)
            return Leaf(None, paths, paths)
        if isinstance(node, Items):
            return _through(node, names[place:])
        node = member(node, name)
    return node


def _through(node: Items, names: Paths) -> Items:
    """The items of the lists at a path within each item of a list, one after another."""
    items: list[Node] = []
    lacks = list(node.lacks)
    for item in node.items:
        inner = _walk(item, names)
        if isinstance(inner, Items):
            items += inner.items
            lacks += inner.lacks
        else:
            lacks += node_about(inner)
    return Items(tuple(items), node.about, tuple(lacks), node.absent)
