"""The licences that a person or a firm holds, against the sort that a rule asks for; three-valued."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from compliance.rulebook.facts import Branch, Items, Leaf, Node, Paths, branches, member
from compliance.rulebook.licence_wordings import NONE, NOTHING, wrong
from shared.folded import folded
from shared.values import Value
from shared.wording import Sayable, Wording


class Card(Value, frozen=True):
    """A licence as sentences name it."""

    licence: Branch

    def say(self, language: str) -> str:
        """`CO-00231 (us-wa), 2026-01-01 to 2026-12-31`."""
        names = ("number", "authority", "valid_from", "valid_to")
        number, authority, start, end = (_plain(leaf(self.licence, name)) for name in names)
        return f"{number} ({authority}), {start} {'to' if language == 'en' else 'a'} {end}"


class Found(Value, frozen=True):
    """What one licence (or the want of one) comes to: good, bad or (None) unknown for lack of members, or
    (`open`) because what is there doesn't tell."""

    good: bool | None
    about: Paths
    words: Sayable = NONE
    wrong: Wording = NOTHING
    open: bool = False


@dataclass(frozen=True)
class Asked:
    """A sort of licence. What is left empty is not asked. Upper and lower case make no difference.

    A licence of one of `not_kinds`, or with one of `not_categories`, is none. With `leaves_open` a kind on
    neither list, and an authority that is not one of the site's, leave it open whether the licence serves.
    """

    authorities: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    categories: tuple[str, ...] = ()
    not_kinds: tuple[str, ...] = ()
    not_categories: tuple[str, ...] = ()
    leaves_open: bool = False

    def one(self, licence: Branch, day: date, places: Paths | None) -> Found:
        """What one licence comes to: a flaw that bars it before one that leaves it open."""
        flaws = [*self._of_what_it_names(licence, places), *self._of_categories(licence)]
        barred = next((flaw for flaw in flaws if flaw.good is False), None)
        if barred:
            return barred
        dated = _valid(licence, day)
        return dated if dated.good is False or not flaws else flaws[0]

    @cached_property
    def _folded(self) -> dict[str, frozenset[str]]:
        lists = ("authorities", "kinds", "categories", "not_kinds", "not_categories")
        return {name: frozenset(map(folded, getattr(self, name))) for name in lists}

    def _of_what_it_names(self, licence: Branch, places: Paths | None) -> Iterator[Found]:
        authority, kind = leaf(licence, "authority"), leaf(licence, "kind")
        elsewhere = self.leaves_open and not is_among(authority, frozenset(map(folded, places or ())))
        if self.authorities and not is_among(authority, self._folded["authorities"]):
            yield _flaw("authority", authority, licence)
        elif elsewhere:
            yield _flaw("authority", authority, licence, bars=False)
        if is_among(kind, self._folded["not_kinds"]):
            yield _flaw("kind", kind, licence)
        elif self.kinds and not is_among(kind, self._folded["kinds"]):
            yield _flaw("kind", kind, licence, bars=not self.leaves_open)
        elif self.not_kinds and kind.value is None:
            yield _flaw("kind", kind, licence)

    def _of_categories(self, licence: Branch) -> Iterator[Found]:
        asked, barred = self._folded["categories"], self._folded["not_categories"]
        held = listed(licence, "categories") if asked or barred else Items((), ())
        named = [item for item in held.items if isinstance(item, Leaf)]
        if any(is_among(item, barred) for item in named) or (
            asked and not any(is_among(item, asked) for item in named)
        ):
            good = None if held.absent else False
            yield Found(good, held.lacks or held.about, Card(licence), wrong("categories", {}))
        elif barred and held.absent:
            yield Found(None, held.lacks, Card(licence))


def best(sorts: tuple[Asked, ...], holder: Node, day: date, places: Paths | None) -> Found:
    """The licence that serves best: a good one, else one that can't be told, else the nearest miss."""
    licences = listed(holder, "licences")
    if licences.absent:
        return Found(None, licences.lacks)
    found: list[Found] = []
    for item in branches(licences):
        for asked in sorts:
            found.append(asked.one(item, day, places))
            if found[-1].good:
                return found[-1]
    unknown = next((one for one in found if one.good is None), None)
    return unknown or (found[0] if found else Found(False, licences.about))


def is_among(leaf: Leaf, allowed: frozenset[str]) -> bool:
    """Whether a text is one of some, whatever its case."""
    return isinstance(leaf.value, str) and folded(leaf.value) in allowed


def text(leaf: Leaf) -> Wording:
    """A value as it stands on the record."""
    return Wording(_plain(leaf), _plain(leaf))


def leaf(branch: Branch, name: str) -> Leaf:
    """The value of that name."""
    return node if isinstance(node := member(branch, name), Leaf) else Leaf(None, ())


def listed(node: Node, name: str) -> Items:
    """The list of that name; one that is left out is marked absent."""
    found = member(node, name) if isinstance(node, Branch) else node
    if isinstance(found, Items):
        return found
    paths = found.lacks if isinstance(found, Leaf) else ()
    return Items((), paths, paths, absent=True)


def _flaw(name: str, stated: Leaf, licence: Branch, *, bars: bool = True) -> Found:
    about = stated.lacks or stated.about
    if stated.value is None:
        return Found(None, about, Card(licence))
    said = wrong(name if bars else f"{name}_open", {"held": text(stated)})
    return Found(False if bars else None, about, Card(licence), said, open=not bars)


def _valid(licence: Branch, day: date) -> Found:
    """Both printed days count."""
    start, end = leaf(licence, "valid_from"), leaf(licence, "valid_to")
    if isinstance(end.value, date) and day > end.value:
        return Found(False, end.about, Card(licence))
    if isinstance(start.value, date) and day < start.value:
        return Found(False, start.about, Card(licence))
    lacks = start.lacks + end.lacks
    return Found(None if lacks else True, lacks or end.about, Card(licence))


def _plain(leaf: Leaf) -> str:
    return "?" if leaf.value is None else str(leaf.value)
