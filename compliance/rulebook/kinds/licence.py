"""Kind `licence`: who may apply or supervise, on that day, in that place."""

from dataclasses import dataclass, field
from datetime import date
from typing import Self

from compliance.rulebook.conditions import Condition, read_condition
from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Branch, Node, Paths, Scope, branches
from compliance.rulebook.held import Asked, Found, best, leaf, listed, text
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.licence_wordings import ANY_AUTHORITY, WORDINGS, wrong
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_text, as_yes_no, each, one_of
from compliance.rulebook.vocabulary import read_path, words_of
from compliance.rulebook.work_days import on_each_day
from shared.wording import Blank, Catalogue, Wording

_AT_A_GLANCE = 10


@dataclass(frozen=True)
class Apprentices:
    """Licences that serve only under somebody who has a full one; `ways`: how, empty if that isn't asked."""

    sorts: tuple[Asked, ...] = ()
    ways: tuple[str, ...] = ()


@dataclass(frozen=True)
class Licence(Kind):
    """Met by an own licence that is valid that day, or by supervision through someone who has one.

    Without `authorities` any authority's licence will do. Kinds and categories are open text. `also`: other
    sorts that do as well; `only`: whom it binds; of whom that is unknown, nobody is refused.
    """

    name = "licence"
    judges = ("document", "people")
    wordings = WORDINGS

    holder: str
    sorts: tuple[Asked, ...]
    supervised: tuple[str, ...] = ()
    apprentices: Apprentices = Apprentices()
    only: Condition | None = None
    ways: Catalogue = field(default_factory=dict[str, Wording])

    @classmethod
    def read(cls, params: Params) -> Self:
        holder = params.value("holder", one_of(("person", "firm")))
        judges = "people" if holder == "person" else "document"
        if params.setting.judges != judges:
            blanks = {"what": holder, "judges": params.setting.judges, "allowed": judges}
            raise RuleError("rule/wrong_subject", blanks, ("holder",))
        ways = words_of(read_path("people", params.setting.roots, lists=True), "supervision")
        led = params.maybe("apprentices", lambda raw: params.inner(raw))
        return cls(
            holder,
            read_sorts(params, led),
            params.maybe("supervised", each(one_of(ways))) or (),
            _read_apprentices(params, led, ways) if led else Apprentices(),
            params.maybe("only", lambda raw: read_condition(params, raw)),
            ways,
        )

    def judge(self, scope: Scope) -> Judgement:
        return on_each_day(scope, lambda day: self._on(day, scope), "licence/over_days")

    def _on(self, day: date, scope: Scope) -> Judgement:
        bound = self.only(scope) if self.only else None
        if bound and bound.truth is False:
            return Judgement(Outcome.NOT_APPLICABLE, "licence/not_bound", bound.about)
        holder = scope.find("person" if self.holder == "person" else "firm")
        own = best(self.sorts, holder, day, scope.facts.places)
        if own.good:
            blanks: dict[str, Blank] = {"day": day.isoformat(), "licence": own.words}
            return Judgement(Outcome.MET, "licence/met", own.about, blanks)
        led = self._led(scope, holder, day)
        if led.good:
            blanks = {"day": day.isoformat(), "supervisor": led.words}
            return Judgement(Outcome.MET, "licence/supervised", led.about, blanks)
        if bound and bound.truth is None:
            return missing(bound.lacks, why=bound.why)
        if own.good is None or led.good is None:
            return self._unknown(own if own.good is None else led, day)
        return self._refused(own, led, day)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})

    def _unknown(self, found: Found, day: date) -> Judgement:
        if not found.open:
            return missing(found.about)
        blanks: dict[str, Blank] = {"day": day.isoformat(), "licence": found.words, "own": found.wrong}
        return Judgement(Outcome.CANT_TELL, "licence/open", found.about, blanks, found.words.say("en"))

    def _refused(self, own: Found, led: Found, day: date) -> Judgement:
        blanks: dict[str, Blank] = {"day": day.isoformat(), "licence": own.words, "asked": self._asked()}
        blanks |= {"own": own.wrong, "led": led.wrong}
        observed = own.words.say("en")
        return Judgement(Outcome.NOT_MET, "licence/not_met", own.about + led.about, blanks, observed)

    def _asked(self) -> Listed:
        """Whose licence, of which kinds and categories: `us-wa, commercial operator / private applicator`."""
        sort = self.sorts[0]
        authority = " / ".join(sort.authorities) or ANY_AUTHORITY
        named = (" / ".join(_first(some)) for some in (sort.kinds, sort.categories) if some)
        return Listed((authority, *named))

    def _led(self, scope: Scope, person: Node, day: date) -> Found:
        """What supervision comes to: an apprentice's licence asks for it, and a law may take it for one."""
        if not isinstance(person, Branch):
            return Found(False, ())
        apprentice = best(self.apprentices.sorts, person, day, scope.facts.places)
        if apprentice.good is False:
            apprentice = Found(False, ())
        ways = self.apprentices.ways if apprentice.good else self.supervised
        if not (apprentice.good or self.supervised):
            return apprentice
        by, how = leaf(person, "supervised_by"), leaf(person, "supervision")
        if by.value is None:
            return Found(None, by.lacks) if apprentice.good else apprentice
        if ways and how.value not in ways:
            return self._wrongly_led(how.value, how.lacks or how.about, ways)
        people = branches(listed(scope.facts.root, "people"))
        named = [one for one in people if by.value in (leaf(one, "id").value, leaf(one, "name").value)]
        leader = best(self.sorts, named[0], day, scope.facts.places) if named else Found(False, by.about)
        if leader.good:
            return Found(True, by.about + leader.about, text(by))
        said = wrong("supervisor", {"supervisor": text(by), "licence": leader.words})
        return Found(leader.good, leader.about, text(by), said)

    def _wrongly_led(self, how: object, about: Paths, ways: tuple[str, ...]) -> Found:
        if how is None:
            return Found(None, about)
        blanks: dict[str, Blank] = {
            "how": self.ways[str(how)],
            "asked": Listed(tuple(self.ways[way] for way in ways)),
        }
        return Found(False, about, wrong=wrong("supervision", blanks))


def _first(names: tuple[str, ...]) -> tuple[str, ...]:
    """As many names as one can take in; a longer list ends with dots."""
    return names if len(names) <= _AT_A_GLANCE else (*names[: _AT_A_GLANCE - 1], "…")


def read_sorts(params: Params, led: Params | None) -> tuple[Asked, ...]:
    """The sorts of licence that do, of which the first may leave something open; an apprentice's is none."""
    texts = each(as_text)
    kinds, categories = (led.maybe(key, texts) or () if led else () for key in ("kinds", "categories"))
    first = _read_sort(params, params.maybe("leaves_open", as_yes_no) or False, kinds, categories)

    def read(raw: object) -> Asked:
        part = params.inner(raw)
        sort = _read_sort(part, False, kinds, categories)
        part.done()
        return sort

    return first, *(params.maybe("also", each(read)) or ())


def _read_sort(part: Params, leaves_open: bool, kinds: Paths, categories: Paths) -> Asked:
    lists = ("authorities", "kinds", "categories", "not_kinds", "not_categories")
    said = {name: part.maybe(name, each(as_text)) or () for name in lists}
    said["not_kinds"] += kinds
    said["not_categories"] += categories
    return Asked(**said, leaves_open=leaves_open)


def _read_apprentices(params: Params, led: Params, ways: Catalogue) -> Apprentices:
    texts = each(as_text)
    authorities = params.maybe("authorities", texts) or ()
    kinds, categories = led.maybe("kinds", texts) or (), led.maybe("categories", texts) or ()
    if not (kinds or categories):
        raise RuleError("rule/some_of_keys", {"keys": "kinds, categories"}, ("apprentices",))
    either = (Asked(authorities, kinds=kinds), Asked(authorities, categories=categories))
    supervised = led.maybe("supervised", each(one_of(ways))) or ()
    led.done()
    return Apprentices(tuple(sort for sort in either if sort.kinds or sort.categories), supervised)
