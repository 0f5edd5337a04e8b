"""Permits: those that a record names, and whether what is known of them covers a surface on a day."""

from dataclasses import dataclass
from datetime import date

from compliance.rulebook.conditions import Verdict, combine
from compliance.rulebook.facts import Branch, Items, Leaf, Paths, branches, leaf_of, member
from shared.wording import Catalogue, Wording


@dataclass(frozen=True)
class Permits:
    """The permits of one authority. `unnumbered` are the numbers that those lack which have none, `unsigned`
    the authorities that numbered ones lack; `held`: what the firm knows of its permits."""

    numbered: tuple[Branch, ...]
    unnumbered: Paths
    unsigned: Paths
    held: Items

    @property
    def named(self) -> bool:
        """Whether the record has a number that is, or may be, one of that authority."""
        return bool(self.numbered or self.unsigned)

    def cover(self, kind: str, day: date) -> Verdict:
        """Whether one of them covers a kind of surface on that day."""
        verdicts = [self._covers(permit, kind, day) for permit in self.numbered]
        verdicts += [Verdict(None, lacks=(path,)) for path in self.unsigned]
        return combine(verdicts, decided_by=True)

    def said(self, kinds: Catalogue) -> tuple[Wording, ...]:
        """`X-1 (de): walk, 2026-01-01 to 2026-12-31` for each that something is known of, with the words for
        kinds of surface."""
        return tuple(_said(one, kinds) for permit in self.numbered for one in self._entries(permit))

    def _covers(self, permit: Branch, kind: str, day: date) -> Verdict:
        entries = self._entries(permit)
        if not entries:
            return Verdict(None, lacks=self.held.lacks or self.held.about)
        return combine([_holds(one, kind, day) for one in entries], decided_by=True)

    def _entries(self, permit: Branch) -> list[Branch]:
        return [one for one in branches(self.held) if _is_of(one) == _is_of(permit)]


def permits_of(named: Items, held: Items, authority: str) -> Permits:
    """The permits that a record names from an authority, or from one in its place: `de-by` issues for `de`."""
    numbered, unnumbered, unsigned = [], list[str](), list[str]()
    for permit in branches(named):
        signed, number = leaf_of(permit, "authority"), leaf_of(permit, "number")
        if signed.value is None and number.value is not None:
            unsigned += signed.lacks
        elif f"{signed.value}-".startswith(f"{authority}-"):
            numbered += [permit] if number.value is not None else []
            unnumbered += number.lacks
    return Permits(tuple(numbered), tuple(unnumbered), tuple(unsigned), held)


def _holds(entry: Branch, kind: str, day: date) -> Verdict:
    """Both printed days count."""
    start, end = leaf_of(entry, "valid_from"), leaf_of(entry, "valid_to")
    return combine(
        [
            _told(end, isinstance(end.value, date) and day <= end.value),
            _told(start, isinstance(start.value, date) and start.value <= day),
            _lists(entry, kind),
        ],
        decided_by=False,
    )


def _told(leaf: Leaf, truth: bool) -> Verdict:
    return Verdict(None, lacks=leaf.lacks) if leaf.value is None else Verdict(truth, leaf.about)


def _lists(entry: Branch, kind: str) -> Verdict:
    surfaces = member(entry, "surfaces")
    if not isinstance(surfaces, Items):
        return Verdict(None, lacks=(f"{entry.path}.surfaces",))
    return Verdict(kind in _values(surfaces), surfaces.about)


def _values(items: Items) -> tuple[str, ...]:
    return tuple(str(item.value) for item in items.items if isinstance(item, Leaf))


def _is_of(permit: Branch) -> tuple[object, object]:
    return leaf_of(permit, "authority").value, leaf_of(permit, "number").value


def _said(entry: Branch, kinds: Catalogue) -> Wording:
    surfaces = member(entry, "surfaces")
    words = [kinds[kind] for kind in _values(surfaces)] if isinstance(surfaces, Items) else []
    number, authority, start, end = (
        str(leaf_of(entry, name).value or "?") for name in ("number", "authority", "valid_from", "valid_to")
    )
    en, es = (", ".join(word.say(language) for word in words) or "?" for language in ("en", "es"))
    permit = f"{number} ({authority})"
    return Wording(f"{permit}: {en}, {start} to {end}", f"{permit}: {es}, {start} a {end}")
