"""What a request meets, read once: a page asks of the same records many things, each of which is few or is told
of the first ones."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from typing import NamedTuple
from uuid import UUID

from django.db.models import Count, Q

from compliance.models import RecordsRequest
from compliance.services.request_before import fitted_before
from compliance.services.request_matches import ids_of_matches, wanted_by
from records.bundle.entered import batched
from records.models import LegalHold, RegisterTerm, Treatment, TreatmentTerm
from records.models.treatments import NEVER_SIGNED
from records.register.terms import CANT_TELL, NOT_MET
from records.register_search import ALONG, FEW, treatments_of

A_DAY, AROUND = timedelta(days=1), timedelta(days=7)
MOST_RULES = 20
OPEN = (NOT_MET, CANT_TELL)
State = Treatment.State


@dataclass(frozen=True)
class OpenRule:
    """A rule that the last check of so many records found not met, or could not tell."""

    rule: str
    kind: str
    records: int


class Row(NamedTuple):
    state: str
    day: date


class Met:
    """The treatments that a request asks for, by their ids; lists of them have the newest first."""

    def __init__(self, request: RecordsRequest) -> None:
        self.request, self.firm = request, request.firm
        self.wanted = wanted_by(request)

    @cached_property
    def fitting(self) -> dict[UUID, Row]:
        """What fits as it stands now."""
        found = treatments_of(self.firm, self.wanted)
        day = ALONG if ALONG in found.query.annotations else "day"
        return {pk: Row(state, on) for pk, state, on in found.values_list("pk", "state", day)}

    @cached_property
    def no_more(self) -> set[UUID]:
        """Those that fit as they stood when the request came in, or later, and now do not."""
        return set(fitted_before(self.request, self.wanted, self.fitting))

    @cached_property
    def signed(self) -> dict[UUID, Row]:
        """Those with something signed, as they stand now or as they stood: what was corrected later is still
        asked for."""
        signed = {pk: row for pk, row in self.fitting.items() if row.state not in NEVER_SIGNED}
        if not self.no_more:
            return signed
        rows = Treatment.objects.for_firm(self.firm).filter(pk__in=self.no_more).order_by()
        signed |= {pk: Row(state, on) for pk, state, on in rows.values_list("pk", "state", "day")}
        return dict(sorted(signed.items(), key=lambda each: (each[1].day, each[0]), reverse=True))

    @property
    def unsigned(self) -> list[UUID]:
        """What fits and is not signed: it is in no bundle, and somebody may ask why."""
        return [pk for pk, row in self.fitting.items() if row.state in NEVER_SIGNED]

    @property
    def void(self) -> list[UUID]:
        return self._of(State.VOID)

    @property
    def correcting(self) -> list[UUID]:
        """Those of which a correction is being written: what is handed over now is what it corrects."""
        return self._of(State.CORRECTING)

    @property
    def held(self) -> list[UUID]:
        """Those that a legal hold keeps from being erased."""
        holds = LegalHold.objects.for_firm(self.firm).filter(lifted=None)
        held = set(holds.order_by().values_list("treatment", flat=True))
        return [pk for pk in self.signed if pk in held]

    @property
    def around(self) -> list[UUID] | None:
        """What fits but for its day, which lies up to a week outside; None where no day is asked for."""
        first, last = self.wanted.day_from, self.wanted.day_to
        if first is None and last is None:
            return None
        later = self._within(last + A_DAY, last + AROUND) if last else []
        earlier = self._within(first - AROUND, first - A_DAY) if first else []
        return [pk for pk in (*later, *earlier) if pk not in self.no_more]

    def shown(self, pks: list[UUID]) -> list[Treatment]:
        """As the register's lines have them."""
        rows = Treatment.objects.for_firm(self.firm).defer("document", "unread").in_bulk(pks)
        return [rows[pk] for pk in pks]

    def open_rules(self) -> Iterator[OpenRule]:
        """The rules that are not met or can't be told, those of the most records first."""
        counts = self._counted_of_few() if len(self.signed) <= FEW else self._counted_of_many()
        terms = RegisterTerm.objects.for_firm(self.firm).in_bulk(list(counts))
        found = [OpenRule(terms[pk].written, terms[pk].kind, count) for pk, count in counts.items()]
        yield from sorted(found, key=lambda each: (-each.records, each.rule))[:MOST_RULES]

    def _of(self, state: str) -> list[UUID]:
        return [pk for pk, row in self.signed.items() if row.state == state]

    def _within(self, first: date, last: date) -> Iterable[UUID]:
        found = treatments_of(self.firm, replace(self.wanted, day_from=first, day_to=last), drafts=False)
        return found.values_list("pk", flat=True)

    def _counted_of_few(self) -> Counter[int]:
        links = TreatmentTerm.objects.for_firm(self.firm).filter(term__kind__in=OPEN)
        counts: Counter[int] = Counter()
        for some in batched(self.signed):
            counts.update(links.filter(treatment__in=some).values_list("term", flat=True))
        return counts

    def _counted_of_many(self) -> Counter[int]:
        """The links of a term lie side by side in their index; of the treatments nothing is read."""
        terms = RegisterTerm.objects.for_firm(self.firm).filter(kind__in=OPEN)
        asked = Q(found__treatment__in=ids_of_matches(self.request))
        counted = terms.annotate(records=Count("found", filter=asked))
        return Counter(dict(counted.filter(records__gt=0).values_list("pk", "records")))
