"""Layers: what no layer may do to another."""

from collections.abc import Iterable
from functools import reduce

from compliance.rulebook.bounds import order, sayable
from compliance.rulebook.errors import RuleError
from compliance.rulebook.finding import Basis, Finding
from compliance.rulebook.kind import Judgement
from compliance.rulebook.limit_bound import Bound
from compliance.rulebook.limits import Strictest
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.pack import Pack
from compliance.rulebook.vocabulary import Vocabulary
from shared.wording import Blank, Wording


def unlawful(strictest: Strictest, members: Vocabulary) -> list[Finding]:
    """A finding for each quantity whose strictest minimum is above its strictest maximum, those that are
    required before those that are advised."""
    findings = []
    for thing, sides, required in strictest.both():
        for ends in (required, sides):
            least, most = ends.get("min"), ends.get("max")
            if least and most and order(least.size, most.size) > 0:
                findings.append(_no_lawful_value(thing[0], thing[1][0], least, most, members))
                break
    return findings


def refuse_loosening(policy: Pack, above: Iterable[Pack]) -> None:
    """Refuse a firm's policy that allows what a law, or every label, does not.

    Raises RuleError with the reason, whose place is the rule and the side of its bound.

    A limit of the policy is set against the latest value of each limit on the same quantity. One that some
    labels are stricter than may stand: with the others it is the stricter one, and the strictest always holds.
    """
    above = list(above)
    for own in _bounds_of(policy):
        stricter = [(pack.layer, _strictest_than(own, pack)) for pack in above]
        laws = [bound for layer, bound in stricter if bound and layer != "label"]
        labels = [bound for layer, bound in stricter if layer == "label"]
        loosened = laws or [bound for bound in labels if bound and all(labels)]
        if loosened:
            raise _loosens(own, reduce(_stricter, loosened))


def _strictest_than(own: Bound, pack: Pack) -> Bound | None:
    """The pack's strictest bound on the same side of the same quantity, if it is stricter than `own`."""
    same = [bound for bound in _bounds_of(pack) if (bound.kind, bound.side) == (own.kind, own.side)]
    stricter = [bound for bound in same if bound.binds and bound.stricter_than(own)]
    return reduce(_stricter, stricter) if stricter else None


def _stricter(one: Bound, other: Bound) -> Bound:
    return other if other.stricter_than(one) else one


def _loosens(own: Bound, bound: Bound) -> RuleError:
    blanks: dict[str, Blank] = {"by": bound.basis.by, "bound": sayable(bound.size)}
    return RuleError(f"rule/loosens_{own.side}", blanks, (own.basis.rule, own.side))


def _bounds_of(pack: Pack) -> list[Bound]:
    return [bound for standing in pack.timetable.on(None) for bound in standing.bounds]


def _no_lawful_value(subject: str, quantity: str, least: Bound, most: Bound, members: Vocabulary) -> Finding:
    low, high = least.basis, most.basis
    basis = Basis(
        rule=f"rulebook/no-lawful-value/{quantity.replace('_', '-')}",
        pack="rulebook",
        title=Wording("No lawful value", "Ningún valor lícito"),
        level="required" if {low.level, high.level} == {"required"} else "advised",
        layer=high.layer,
        stage="before",
        cite=f"{low.cite}; {high.cite}",
        text="found",
        doubt=None,
        by="",
    )
    blanks: dict[str, Blank] = {
        "quantity": least.limited.measure.label,
        "min": sayable(least.size),
        "max": sayable(most.size),
        "min_by": low.by,
        "max_by": high.by,
    }
    about = (subject,) if subject else ()
    judgement = Judgement(Outcome.NOT_MET, "no_lawful_value", about, blanks)
    return Finding(basis, judgement, basis.level, members)
