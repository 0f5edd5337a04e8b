"""Kind `licence`: who may apply or supervise, on that day, in that place."""

from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Self

from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Branch, Items, Leaf, Node, Paths, Scope, branches, member
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.licence_wordings import ANY_AUTHORITY, NONE, NOTHING, WORDINGS, wrong
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_text, each, one_of
from compliance.rulebook.vocabulary import read_path, words_of
from compliance.rulebook.work_days import on_each_day
from shared.folded import folded
from shared.values import value
from shared.wording import Blank, Catalogue, Wording


@value
class Found:
    """What one licence (or the want of one) comes to: good, bad or (None) unknown for lack of members."""

    good: bool | None
    about: Paths
    words: Wording = NONE
    wrong: Wording = NOTHING


@dataclass(frozen=True)
class Licence(Kind):
    """Met by an own licence that is valid that day, or by supervision through someone who has one.

    Without `authorities` any authority's licence will do. Kinds and categories are open text: upper and lower
    case make no difference.
    """

    name = "licence"
    judges = ("document", "people")
    wordings = WORDINGS

    holder: str
    authorities: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    categories: tuple[str, ...] = ()
    supervised: tuple[str, ...] = ()
    ways: Catalogue = field(default_factory=dict[str, Wording])

    @classmethod
    def read(cls, params: Params) -> Self:
        holder = params.value("holder", one_of(("person", "firm")))
        judges = "people" if holder == "person" else "document"
        if params.setting.judges != judges:
            blanks = {"what": holder, "judges": params.setting.judges, "allowed": judges}
            raise RuleError("rule/wrong_subject", blanks, ("holder",))
        texts = each(as_text)
        known = words_of(read_path("people", params.setting.roots, lists=True), "supervision")
        supervised = params.maybe("supervised", each(one_of(known)))
        return cls(
            holder,
            params.maybe("authorities", texts) or (),
            params.maybe("kinds", texts) or (),
            params.maybe("categories", texts) or (),
            supervised or (),
            known,
        )

    def judge(self, scope: Scope) -> Judgement:
        return on_each_day(scope, lambda day: self._on(day, scope), "licence/over_days")

    def _on(self, day: date, scope: Scope) -> Judgement:
        holder = scope.find("person" if self.holder == "person" else "firm")
        own = self._best(holder, day)
        if own.good:
            blanks: dict[str, Blank] = {"day": day.isoformat(), "licence": own.words}
            return Judgement(Outcome.MET, "licence/met", own.about, blanks)
        led = self._supervision(scope, holder, day) if self.supervised else Found(False, ())
        if led.good:
            return Judgement(
                Outcome.MET,
                "licence/supervised",
                led.about,
                {"day": day.isoformat(), "supervisor": led.words},
            )
        if own.good is None or led.good is None:
            return missing(own.about if own.good is None else led.about)
        return self._refused(own, led, day)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})

    def _refused(self, own: Found, led: Found, day: date) -> Judgement:
        blanks: dict[str, Blank] = {"day": day.isoformat(), "licence": own.words, "asked": self._asked()}
        blanks |= {"own": own.wrong, "led": led.wrong}
        return Judgement(Outcome.NOT_MET, "licence/not_met", own.about + led.about, blanks, own.words.en)

    def _asked(self) -> Listed:
        """Whose licence, of which kinds and categories: `us-wa, commercial operator / private applicator`."""
        authority = " / ".join(self.authorities) or ANY_AUTHORITY
        return Listed((authority, *(" / ".join(some) for some in (self.kinds, self.categories) if some)))

    def _best(self, holder: Node, day: date) -> Found:
        """The licence that serves best: a good one, else one that can't be told, else the nearest miss."""
        licences = _list(holder, "licences")
        if licences.absent:
            return Found(None, licences.lacks)
        found: list[Found] = []
        for item in branches(licences):
            found.append(self._one(item, day))
            if found[-1].good:
                return found[-1]
        unknown = next((one for one in found if one.good is None), None)
        return unknown or (found[0] if found else Found(False, licences.about))

    @cached_property
    def _folded(self) -> tuple[frozenset[str], ...]:
        """Authorities, kinds and categories without regard to case."""
        return tuple(frozenset(map(folded, texts)) for texts in (self.authorities, self.kinds, self.categories))

    def _one(self, licence: Branch, day: date) -> Found:
        authorities, kinds, categories = self._folded
        for name, allowed in (("authority", authorities), ("kind", kinds)):
            leaf = _leaf(licence, name)
            if allowed and not _is_among(leaf, allowed):
                good, why = None if leaf.value is None else False, wrong(name, {"held": _text(leaf)})
                return Found(good, leaf.lacks or leaf.about, _said(licence), why)
        if categories:
            held = _list(licence, "categories")
            if not any(isinstance(item, Leaf) and _is_among(item, categories) for item in held.items):
                good = None if held.absent else False
                return Found(good, held.lacks or held.about, _said(licence), wrong("categories", {}))
        return _valid(licence, day)

    def _supervision(self, scope: Scope, person: Node, day: date) -> Found:
        if not isinstance(person, Branch):
            return Found(False, ())
        by, how = _leaf(person, "supervised_by"), _leaf(person, "supervision")
        if by.value is None:
            return Found(False, ())
        if how.value not in self.supervised:
            return self._wrongly_led(how)
        people = branches(_list(scope.facts.root, "people"))
        named = [one for one in people if by.value in (_leaf(one, "id").value, _leaf(one, "name").value)]
        best = self._best(named[0], day) if named else Found(False, by.about)
        if best.good:
            return Found(True, by.about + best.about, _text(by))
        said = wrong("supervisor", {"supervisor": _text(by), "licence": best.words})
        return Found(best.good, best.about, _text(by), said)

    def _wrongly_led(self, how: Leaf) -> Found:
        if how.value is None:
            return Found(None, how.lacks or how.about)
        blanks: dict[str, Blank] = {
            "how": self.ways[str(how.value)],
            "asked": Listed(tuple(self.ways[way] for way in self.supervised)),
        }
        return Found(False, how.about, wrong=wrong("supervision", blanks))


def _is_among(leaf: Leaf, allowed: frozenset[str]) -> bool:
    return isinstance(leaf.value, str) and folded(leaf.value) in allowed


def _valid(licence: Branch, day: date) -> Found:
    """Both printed days count."""
    start, end = _leaf(licence, "valid_from"), _leaf(licence, "valid_to")
    if isinstance(end.value, date) and day > end.value:
        return Found(False, end.about, _said(licence))
    if isinstance(start.value, date) and day < start.value:
        return Found(False, start.about, _said(licence))
    lacks = start.lacks + end.lacks
    return Found(None if lacks else True, lacks or end.about, _said(licence))


def _said(licence: Branch) -> Wording:
    """`CO-00231 (us-wa), 2026-01-01 to 2026-12-31`."""
    names = ("number", "authority", "valid_from", "valid_to")
    number, authority, start, end = (_plain(_leaf(licence, name)) for name in names)
    return Wording(f"{number} ({authority}), {start} to {end}", f"{number} ({authority}), {start} a {end}")


def _text(leaf: Leaf) -> Wording:
    return Wording(_plain(leaf), _plain(leaf))


def _plain(leaf: Leaf) -> str:
    return "?" if leaf.value is None else str(leaf.value)


def _leaf(branch: Branch, name: str) -> Leaf:
    return node if isinstance(node := member(branch, name), Leaf) else Leaf(None, ())


def _list(node: Node, name: str) -> Items:
    found = member(node, name) if isinstance(node, Branch) else node
    if isinstance(found, Items):
        return found
    paths = found.lacks if isinstance(found, Leaf) else ()
    return Items((), paths, paths, absent=True)
