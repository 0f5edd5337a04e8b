"""Which notice told whom: those with a name go to its bearer, the others are given out in order."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from compliance.rulebook.facts import Branch, leaf_of
from compliance.rulebook.kind import Judgement
from compliance.rulebook.outcome import RANK, Outcome
from compliance.rulebook.recipients import Recipient, name_of
from shared.wording import Wording

Judge = Callable[[Branch, Wording], Judgement]


def hand_out(
    notices: Sequence[Branch],
    recipients: Sequence[Recipient],
    judge: Judge,
    none: Callable[[Recipient], Judgement],
) -> list[Judgement]:
    """For each recipient the best notice that bears their name, else the next best without a name.

    A second person of one name may be the same as the first, and one notice that is listed twice may have
    told one person: where nothing else is left for them it can't be told.
    """
    anybody, of_a_list = Wording("", ""), any(one.about for one in recipients)
    unnamed = [one for one in notices if not of_a_list or not name_of(one)]
    unnamed.sort(key=lambda one: RANK[judge(one, anybody).outcome], reverse=True)
    free, again = _each_once(unnamed)
    judged: dict[int, Judgement] = {}
    first_of: dict[str, Judgement] = {}
    for place in _order(recipients):
        one = recipients[place]
        own = [notice for notice in notices if one.name and name_of(notice) == one.name]
        if own:
            best = max((judge(notice, one.said) for notice in own), key=lambda each: RANK[each.outcome])
        elif free:
            best = judge(free.pop(0), one.said)
        elif (first := first_of.get(one.name)) and first.outcome is not Outcome.NOT_MET:
            best = _doubted(first, "same_name", one)
        elif again:
            best = judge(again.pop(0), one.said)
            best = _doubted(best, "same_notice", one) if best.outcome is Outcome.MET else best
        else:
            best = none(one)
        if one.name and not own:
            first_of.setdefault(one.name, best)
        if one.unsure and best.outcome is not Outcome.MET:
            best = one.unsure
        judged[place] = replace(best, about=tuple(dict.fromkeys((*best.about, *one.about))))
    return [judged[place] for place in range(len(recipients))]


def _order(recipients: Sequence[Recipient]) -> list[int]:
    """First who must be told, the first of each name before others that bear it; then who may have to be."""
    seen: set[str] = set()
    ranked = []
    for place, one in enumerate(recipients):
        ranked.append((one.unsure is not None, bool(one.name) and one.name in seen, place))
        seen.add(one.name)
    return [place for _, _, place in sorted(ranked)]


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
