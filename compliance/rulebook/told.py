"""One notice against what a law asks of it: when it was given, by which means, how long it holds."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from compliance.rulebook.durations import Duration, read_duration, said_moment
from compliance.rulebook.facts import Branch, Leaf, Paths, Scope, leaf_of
from compliance.rulebook.kind import Judgement, Listed, Seen
from compliance.rulebook.lead import Lead, read_lead
from compliance.rulebook.notice_days import Days, read_days
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, each, one_of
from compliance.rulebook.sizes import elapsed
from shared.values import Value
from shared.wording import Blank, Catalogue, Sayable

VOICEMAIL = "voicemail"
"""No call: a rule that lists it among its means says that it will do."""
_COUNTED = {"told": ("delivered_at", "sent_at"), "sent": ("sent_at",), "delivered": ("delivered_at",)}


@dataclass(frozen=True)
class Terms:
    """What a law asks of one notice.

    `counted`: the members of a notice that say when it was given, the first that is there. `valid`: how long it
    holds from the stated time.
    """

    lead: Lead
    counted: Paths
    earliest: Duration | None
    days: Days
    valid: Duration | None
    means: Paths
    known_means: Catalogue

    def judge(self, notice: Branch, whom: Sayable, scope: Scope) -> Judgement:
        """Not met by the first term that is broken; else can't tell, where one can't be judged; else met."""
        leaves = [leaf_of(notice, name) for name in self.counted]
        told = next((leaf for leaf in leaves if leaf.value is not None), leaves[-1])
        case = _Case(self, notice, told, scope)
        found = [
            case.sent_before_it_came(),
            case.in_time(),
            case.not_too_early(),
            case.on_its_days(),
            case.while_it_holds(),
            case.by_means(),
        ]
        broken = [judgement for judgement in found if judgement]
        broken.sort(key=lambda judgement: judgement.outcome is not Outcome.NOT_MET)
        blanks = {"whom": whom, "asked": self.lead, **case.told_blank()}
        if broken:
            return broken[0].but(blanks={**blanks, **broken[0].blanks})
        return Judgement(Outcome.MET, "notice/met", told.about, blanks)


def read_terms(params: Params, means: Catalogue) -> Terms:
    """The keys that state the terms of a notice. Raises RuleError."""
    lead = read_lead(params, after=True)

    def length(raw: object) -> Duration:
        return read_duration(params, raw)

    return Terms(
        lead,
        _COUNTED[params.maybe("counts", one_of(_COUNTED)) or "told"],
        params.maybe("earliest", length),
        read_days(params),
        params.maybe("valid", length),
        params.maybe("means", each(one_of(means))) or (),
        means,
    )


def unknown(lacks: Paths, whom: Sayable | None = None) -> Judgement:
    """Can't tell of this person, because these members are not stated."""
    blanks: dict[str, Blank] = {"whom": whom} if whom else {}
    return Judgement(Outcome.CANT_TELL, "notice/missing", lacks, blanks, absence=True)


class _Case(Value, frozen=True):
    terms: Terms
    notice: Branch
    told: Leaf
    scope: Scope

    def told_blank(self) -> Mapping[str, Blank]:
        at = self.told.value
        return {"told": said_moment(self.scope.facts.local(at))} if isinstance(at, datetime) else {}

    def sent_before_it_came(self) -> Judgement | None:
        sent, delivered = (leaf_of(self.notice, name) for name in ("sent_at", "delivered_at"))
        first, then = sent.value, delivered.value
        if not isinstance(first, datetime) or not isinstance(then, datetime) or first <= then:
            return None
        moments = {"sent": first, "delivered": then}
        blanks = {name: said_moment(self.scope.facts.local(at)) for name, at in moments.items()}
        about = (*delivered.about, *sent.about)
        return Judgement(Outcome.CANT_TELL, "notice/before_sent", about, blanks)

    def in_time(self) -> Judgement | None:
        lead, at = self.terms.lead, self.told.value
        if not isinstance(at, datetime):
            return unknown(self.told.lacks)
        timely = lead.timely(at, self.scope)
        if timely.truth is None:
            return unknown(timely.lacks)
        if timely.truth:
            return None
        start, (due, _) = lead.work(self.scope).start, lead.due(self.scope)
        if lead.form != "ahead" or start is None:
            return self._broken("not_in_time", at.isoformat(), due.isoformat() if due else None)
        before = elapsed(at, start, "hour")
        blanks: dict[str, Blank] = {"observed": before, "serves": lead.serves_from(at, self.scope)}
        if lead.length.hours:
            return self._broken("late", before, lead.length.hours, blanks)
        return self._broken("late", at.isoformat(), due.isoformat() if due else None, blanks)

    def not_too_early(self) -> Judgement | None:
        start, earliest, at = self.terms.lead.work(self.scope).start, self.terms.earliest, self.told.value
        if earliest is None or start is None or not isinstance(at, datetime):
            return None
        opens = earliest.before(start, self.scope.facts, earliest=True)
        if at >= opens:
            return None
        return self._broken("early", at.isoformat(), opens.isoformat(), {"earliest": earliest})

    def on_its_days(self) -> Judgement | None:
        return self.terms.days.judge(self.notice, self.told, self.scope)

    def while_it_holds(self) -> Judgement | None:
        valid, work, planned = self.terms.valid, self.terms.lead.work(self.scope), self._planned()
        if valid is None:
            return None
        if work.start is None or not isinstance(planned.value, datetime):
            return unknown(planned.lacks or work.start_about)
        local = self.scope.facts.local
        until = valid.after(planned.value, self.scope.facts)
        if planned.value <= work.start <= until:
            return None
        start, named = said_moment(local(work.start)), said_moment(local(planned.value))
        blanks: dict[str, Blank] = {"valid": valid, "start": start, "named": named}
        return self._broken("expired", start, f"{named} – {said_moment(until)}", blanks, planned.about)

    def by_means(self) -> Judgement | None:
        terms, means = self.terms, leaf_of(self.notice, "means")
        if means.value in terms.means:
            return None
        if means.value == VOICEMAIL and (not terms.means or "phone" in terms.means):
            return Judgement(Outcome.CANT_TELL, "notice/voicemail", means.about)
        if not terms.means:
            return None
        if not isinstance(means.value, str):
            return unknown(means.lacks)
        allowed = Listed(tuple(terms.known_means[name] for name in terms.means))
        blanks: dict[str, Blank] = {"means": terms.known_means[means.value], "allowed": allowed}
        return self._broken("means", means.value, ", ".join(terms.means), blanks, means.about)

    def _planned(self) -> Leaf:
        return leaf_of(self.notice, "planned_at")

    def _broken(
        self,
        wording: str,
        observed: Seen,
        bound: Seen,
        blanks: Mapping[str, Blank] | None = None,
        about: Paths = (),
    ) -> Judgement:
        return Judgement(
            Outcome.NOT_MET, f"notice/{wording}", about or self.told.about, blanks or {}, observed, bound
        )
