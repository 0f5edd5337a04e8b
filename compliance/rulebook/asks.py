"""What a record must state: one thing, once or for the items of a list; three-valued."""

from collections.abc import Mapping
from dataclasses import dataclass

from compliance.rulebook.conditions import Condition, Verdict, is_present, read_condition
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Items, Leaf, Node, Paths, Scope
from compliance.rulebook.reading import Params, as_wording, each
from compliance.rulebook.vocabulary import FactPath, Term, node_about
from shared.values import Value
from shared.wording import Sayable, Wording


class Gap(Value, frozen=True):
    """What an ask does not find: members that are not there, or (`unsure`) that it can't tell about.

    `why`: it can't be worked out from members that are there.
    """

    paths: Paths
    unsure: bool = False
    why: Sayable | None = None


@dataclass(frozen=True)
class Ask:
    """One thing that the record must state: any or all of some paths, once or for the items of a list, or of
    those of its items of which `where` is so."""

    words: Wording
    paths: tuple[FactPath, ...]
    any_will_do: bool
    over: FactPath | None
    every: bool
    exempt: Condition | None
    only: Condition | None
    where: Condition | None = None

    def gap(self, scope: Scope) -> tuple[Gap | None, Paths]:
        """What is missing (None if nothing is), and the members that state what is asked for."""
        if self.over:
            items = self._among(self.over.items(scope), scope)
            return self._over_items(items, scope), items.about
        absent, about = self._looked_up(scope)
        return self._without(absent, scope) if absent else None, about

    def _among(self, items: Items, scope: Scope) -> Items:
        """The items that are asked. One of which that is unknown is asked where it states nothing; where it
        states what is asked for, it may be the one."""
        if self.where is None:
            return items
        chosen: list[Node] = []
        lacks = list(items.lacks)
        for item in items.items:
            within = scope.within(item)
            verdict = self.where(within)
            if verdict.truth:
                chosen.append(item)
            elif verdict.truth is None and self._once(within) is None:
                lacks += verdict.lacks
        return Items(tuple(chosen), items.about, tuple(lacks), items.absent)

    def _over_items(self, items: Items, scope: Scope) -> Gap | None:
        if not items.items:
            known = items.absent or not items.lacks
            return self._of_no_item(scope, Gap(items.about) if known else Gap(items.lacks, unsure=True))
        found: list[Gap] = []
        for item in items.items:
            one = self._once(scope.within(item))
            if one:
                found.append(one)
            elif not self.every:
                return None
        if not self.every and items.lacks:
            return Gap(items.lacks, unsure=True)
        for gap in found:
            if not gap.unsure:
                return gap
        if items.lacks:
            return Gap(items.lacks, unsure=True)
        return found[0] if found else None

    def _once(self, scope: Scope) -> Gap | None:
        absent, _ = self._looked_up(scope)
        return self._without(absent, scope) if absent else None

    def _looked_up(self, scope: Scope) -> tuple[list[Node], Paths]:
        """What is not there, and the members that state the paths."""
        if len(self.paths) == 1:
            node = self.paths[0].look(scope)
            return [] if is_present(node) else [node], node_about(node)
        absent: list[Node] = []
        about: Paths = ()
        for path in self.paths:
            node = path.look(scope)
            about += node_about(node)
            if not is_present(node):
                absent.append(node)
        return absent, about

    def _without(self, absent: list[Node], scope: Scope) -> Gap | None:
        if self.any_will_do and len(absent) < len(self.paths):
            return None
        wanted = self.only(scope) if self.only else None
        if (wanted and wanted.truth is False) or (self.exempt and self.exempt(scope).truth is True):
            return None
        if wanted and wanted.truth is None:
            return Gap(wanted.lacks, unsure=True, why=wanted.why)
        named = absent[:1] if self.any_will_do else absent
        why = next((node.why for node in named if isinstance(node, Leaf) and node.why), None)
        return Gap(tuple(path for node in named for path in _lacks(node)), why=why)

    def _of_no_item(self, scope: Scope, gap: Gap) -> Gap | None:
        """The gap of a list without items, which may be let be for a reason that does not lie in an item."""
        exempt, wanted = (part(scope) if part else Verdict(None) for part in (self.exempt, self.only))
        if exempt.truth is True and not _of_an_item(exempt):
            return None
        if not self.only or wanted.truth is True or _of_an_item(wanted):
            return gap
        return None if wanted.truth is False else Gap(wanted.lacks, unsure=True, why=wanted.why)


def _of_an_item(verdict: Verdict) -> bool:
    """Whether what decided lies in an item of a list that has none."""
    return any(path == "item" or path.startswith("item.") for path in verdict.about)


def _lacks(node: Node) -> Paths:
    return (node.lacks if isinstance(node, Leaf) else ()) or node_about(node)


def read_ask(part: Params) -> Ask:
    """One of the `asks` of a rule. Raises RuleError."""
    words = part.value("words", as_wording)
    over, roots, every = _read_list(part)
    form = part.which("path", "one_of", "all_of")

    def read(raw: object) -> FactPath:
        return part.path(raw, lists=True, roots=roots)

    paths = (part.value(form, read),) if form == "path" else part.value(form, each(read))
    exempt = part.maybe("unless", lambda raw: read_condition(part, raw, roots))
    only = part.maybe("only", lambda raw: read_condition(part, raw, roots))
    where = part.maybe("where", lambda raw: read_condition(part, raw, roots)) if over else None
    part.done()
    return Ask(words, paths, form == "one_of", over, every, exempt, only, where)


def _read_list(part: Params) -> tuple[FactPath | None, Mapping[str, Term], bool]:
    roots = part.setting.roots
    if not (part.has("every") or part.has("some")):
        return None, roots, True
    form = part.which("every", "some")
    path = part.value(form, lambda raw: part.path(raw, lists=True))
    if path.term.item is None:
        raise RuleError("rule/not_a_list", {"path": path.text}, (form,))
    return path, {**roots, "item": path.term.item}, form == "every"
