"""Kind `posting`: signs at the site, how large, by when they stand and how long they stay."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Self

from compliance.rulebook.durations import said_moment
from compliance.rulebook.facts import Branch, Scope, branches, leaf_of
from compliance.rulebook.kind import Judgement, Kind, missing
from compliance.rulebook.lead import Lead, read_lead
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.posting_wordings import WORDINGS
from compliance.rulebook.reading import Params, as_count, as_wording, quantity
from compliance.rulebook.removal import removals_among
from compliance.rulebook.sign import Sign, Size, read_sign, read_size
from compliance.rulebook.stay import Standing, Stay, posted_at, read_stay
from compliance.rulebook.vocabulary import FactPath, read_path
from shared.quantities import Quantity
from shared.wording import Blank, Wording


@dataclass(frozen=True)
class Posting(Kind):
    """Met by enough signs that are large enough and stood in time, none of which came down too soon.

    Whether a sign stands at each access point, or near enough to the next, no record can show: the finding
    says so. The look of the sign is for the paper that prints it.
    """

    name = "posting"
    judges = ("document",)
    wordings = WORDINGS

    postings: FactPath
    follow_ups: FactPath
    lead: Lead
    size: Size | None
    least: int
    place: Wording | None
    spacing: Quantity | None
    stay: Stay
    sign: Sign | None

    @classmethod
    def read(cls, params: Params) -> Self:
        roots = params.setting.roots
        return cls(
            read_path("postings", roots, lists=True),
            read_path("context.follow_ups", roots, lists=True),
            read_lead(params),
            params.maybe("size", lambda raw: read_size(params.inner(raw))),
            params.maybe("least", as_count) or 1,
            params.maybe("place", as_wording),
            params.maybe("spacing", quantity("length")),
            read_stay(params),
            params.maybe("sign", lambda raw: read_sign(params, raw)),
        )

    def judge(self, scope: Scope) -> Judgement:
        signs = self.postings.items(scope)
        if signs.absent:
            return missing(signs.lacks)
        judged = [(sign, self._sign(sign, scope)) for sign in branches(signs)]
        good = [sign for sign, one in judged if one is None]
        unsure = [one for _, one in judged if one and one.outcome is Outcome.CANT_TELL]
        if len(good) >= self.least:
            return self._kept(good, unsure, scope)
        if len(good) + len(unsure) >= self.least:
            return unsure[0]
        bad = [one for _, one in judged if one and one.outcome is Outcome.NOT_MET]
        if bad and len(judged) >= self.least:
            return bad[0]
        return self._too_few(len(judged), scope)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET, Outcome.CANT_TELL})

    def stands_until(self, scope: Scope) -> datetime | None:
        """Until when signs stay at least, by a plan: what counts from the end of the work is counted from its
        start; None where the law was not read on it, or no start is known."""
        work = self.lead.work(scope)
        if work.start is None or self.stay.since == "unknown":
            return None
        ended = replace(work, end=work.end or work.start)
        return self.stay.until(Standing((work.start,), self.least, ended), scope)[0]

    def _too_few(self, count: int, scope: Scope) -> Judgement:
        due, _ = self.lead.due(scope)
        blanks: dict[str, Blank] = {"count": str(count), "least": str(self.least), "asked": self.lead}
        blanks["where"] = self.place or Wording("at the site", "en el lugar")
        about = self.postings.items(scope).about
        return Judgement(
            Outcome.NOT_MET, "posting/too_few", about, blanks, str(count), str(self.least), due, absence=True
        )

    def _sign(self, sign: Branch, scope: Scope) -> Judgement | None:
        """What is wrong with one sign, or can't be told of it; None if nothing is."""
        where = leaf_of(sign, "where").value
        blanks: dict[str, Blank] = {"where": where if isinstance(where, str) else "?"}
        unsure: Judgement | None = None
        for one in (self._by_size(sign, blanks), self._in_time(sign, blanks, scope)):
            if one and one.outcome is Outcome.NOT_MET:
                return one
            unsure = unsure or one
        return unsure

    def _by_size(self, sign: Branch, blanks: dict[str, Blank]) -> Judgement | None:
        if self.size is None:
            return None
        sides = [leaf_of(sign, name) for name in ("width", "height")]
        width, height = (side.value for side in sides)
        if not isinstance(width, Quantity) or not isinstance(height, Quantity):
            return missing(tuple(path for side in sides for path in side.lacks))
        if self.size.fits(width, height):
            return None
        seen = Size(width, height, False)
        about = tuple(path for side in sides for path in side.about)
        said = {**blanks, "observed": seen, "bound": self.size}
        return Judgement(Outcome.NOT_MET, "posting/small", about, said, seen.say("en"), self.size.say("en"))

    def _in_time(self, sign: Branch, blanks: dict[str, Blank], scope: Scope) -> Judgement | None:
        posted = leaf_of(sign, "posted_at")
        if not isinstance(posted.value, datetime):
            return missing(posted.lacks)
        timely = self.lead.timely(posted.value, scope)
        if timely.truth is None:
            return missing(timely.lacks)
        if timely.truth:
            return None
        due, _ = self.lead.due(scope)
        bound = due.isoformat() if due else None
        said = {**blanks, "posted": said_moment(scope.facts.local(posted.value)), "asked": self.lead}
        return Judgement(Outcome.NOT_MET, "posting/late", posted.about, said, posted.value.isoformat(), bound)

    def _kept(self, good: list[Branch], unsure: list[Judgement], scope: Scope) -> Judgement:
        """Met, unless a follow-up says (or may say) that a sign came down too soon."""
        about = tuple(path for sign in good for path in leaf_of(sign, "posted_at").about)
        blanks: dict[str, Blank] = {"count": str(len(good)), "note": self._note()}
        follow_ups = self.follow_ups.items(scope)
        if follow_ups.absent:
            return missing(follow_ups.lacks)
        removals = removals_among(branches(follow_ups))
        standing = Standing(posted_at(good), self.least, self.lead.work(scope))
        if found := self.stay.judge(standing, removals, scope):
            return found
        if self.stay.since == "posting" and removals and unsure:
            return unsure[0]
        until = None if self.stay.since == "unknown" else self.stay.until(standing, scope)[0]
        if until is None:
            return Judgement(Outcome.MET, "posting/met", about, blanks)
        blanks |= {"until": said_moment(until), "counted": self.stay.counted(standing)}
        return Judgement(Outcome.MET, "posting/kept", about, blanks)

    def _note(self) -> Wording:
        """What no record can show about where the signs stand."""
        en = [f"one stands {self.place.en}"] if self.place else []
        es = [f"haya uno {self.place.es}"] if self.place else []
        if self.spacing:
            en.append(f"they stand no further than {self.spacing.say('en')} apart")
            es.append(f"no disten más de {self.spacing.say('es')} entre sí")
        if not en:
            return Wording("", "")
        return Wording(
            f"Not shown by a record: that {' and that '.join(en)}.",
            f"No lo muestra un registro: que {' y que '.join(es)}.",
        )
