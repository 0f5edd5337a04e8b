"""Which notice told whom: the sender knows, or its name says so; the others are given out in order."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from compliance.rulebook.facts import Branch, leaf_of
from compliance.rulebook.kind import Judgement
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.recipients import Recipient, name_of
from shared.wording import Wording

Judge = Callable[[Branch, Wording], Judgement]


def hand_out(
    notices: Sequence[Branch],
    recipients: Sequence[Recipient],
    judge: Judge,
    none: Callable[[Recipient], Judgement],
    whose: Callable[[Branch], str] = lambda _notice: "",
    stands: Callable[[Sequence[Branch]], Sequence[Branch]] = lambda notices: notices,
) -> list[Judgement]:
    """For each recipient the best notice that was for them (`whose` id) or bears their name, of those that
    stand; else the next best of which neither is known.

    A second person of one name may be the same as the first, and one notice that is listed twice may have
    told one person: where nothing else is left for them it can't be told.
    """
    anybody, of_a_list = Wording("", ""), any(one.about for one in recipients)
    unnamed = [one for one in notices if not of_a_list or not (whose(one) or name_of(one))]
    unnamed.sort(key=lambda one: judge(one, anybody).outcome.rank, reverse=True)
    hand = _Hand(_by_bearer(notices, whose), *_each_once(unnamed), judge, none, stands)
    judged: dict[int, Judgement] = {}
    for place in _order(recipients):
        one = recipients[place]
        best = hand.to(one)
        if one.unsure and best.outcome is not Outcome.MET:
            hand.short |= one.unknown
            best = one.unsure
        judged[place] = best.but(about=tuple(dict.fromkeys((*best.about, *one.about))))
    return [_at_last(recipients[place], judged[place], hand) for place in range(len(recipients))]


def _at_last(one: Recipient, best: Judgement, hand: "_Hand") -> Judgement:
    """Where whether somebody must be told is unknown, and no notice was left for them, a notice without a name
    may have been theirs."""
    if one.unsure and one.unknown:
        return one.unsure
    if hand.short and best.outcome is Outcome.MET and one in hand.by_chance:
        return _doubted(best, "whose", one)
    return best


@dataclass
class _Hand:
    """What is left to be given out: notices without a name, and such as are listed again. `by_chance`: who got
    one of those; `short`: they did not suffice for one of whom it is unknown whether they must be told."""

    by_bearer: Mapping[tuple[str, str], list[Branch]]
    free: list[Branch]
    again: list[Branch]
    judge: Judge
    none: Callable[[Recipient], Judgement]
    stands: Callable[[Sequence[Branch]], Sequence[Branch]]
    first_of: dict[str, Judgement] = field(default_factory=dict[str, Judgement])
    by_chance: list[Recipient] = field(default_factory=list[Recipient])
    short: bool = False

    def to(self, one: Recipient) -> Judgement:
        keys = [key for key in (("id", one.id), ("name", one.name)) if key[1]]
        own = self.stands([notice for key in keys for notice in self.by_bearer.get(key, ())])
        if own:
            return max((self.judge(notice, one.said) for notice in own), key=lambda each: each.outcome.rank)
        self.by_chance.append(one)
        best = self._unnamed(one)
        if one.name:
            self.first_of.setdefault(one.name, best)
        return best

    def _unnamed(self, one: Recipient) -> Judgement:
        if self.free:
            return self.judge(self.free.pop(0), one.said)
        first = self.first_of.get(one.name)
        if first and first.outcome is not Outcome.NOT_MET:
            return _doubted(first, "same_name", one)
        if self.again:
            best = self.judge(self.again.pop(0), one.said)
            return _doubted(best, "same_notice", one) if best.outcome is Outcome.MET else best
        return self.none(one)


def _by_bearer(
    notices: Sequence[Branch], whose: Callable[[Branch], str]
) -> Mapping[tuple[str, str], list[Branch]]:
    found: dict[tuple[str, str], list[Branch]] = {}
    for one in notices:
        known = whose(one)
        found.setdefault(("id", known) if known else ("name", name_of(one)), []).append(one)
    return found


def _order(recipients: Sequence[Recipient]) -> list[int]:
    """First who must be told, the first of each name before others that bear it; then those of whom that is
    unknown, and who may have to be."""
    seen: set[str] = set()
    ranked = []
    for place, one in enumerate(recipients):
        ranked.append((one.unsure is not None, not one.unknown, bool(one.name) and one.name in seen, place))
        seen.add(one.name)
    return [place for *_, place in sorted(ranked)]


def _each_once(notices: Sequence[Branch]) -> tuple[list[Branch], list[Branch]]:
    """The notices, and those that state the same paper and the same moments as one before."""
    seen: set[tuple[object, ...]] = set()
    once, again = list[Branch](), list[Branch]()
    for one in notices:
        paper = leaf_of(one, "notice").value
        same = (paper, leaf_of(one, "sent_at").value, leaf_of(one, "delivered_at").value)
        (again if paper is not None and same in seen else once).append(one)
        seen.add(same)
    return once, again


def _doubted(judgement: Judgement, wording: str, recipient: Recipient) -> Judgement:
    blanks = {**judgement.blanks, "whom": recipient.said}
    return Judgement(Outcome.CANT_TELL, f"notice/{wording}", judgement.about, blanks)
