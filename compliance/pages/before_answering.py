"""What is near to a request's answer and what is wrong with it: to be looked at before it is answered.

It stands on the request's own page. Where very many records fit, these are there at once and this comes after.
"""

from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.http import urlencode
from django.utils.translation import gettext_lazy

from compliance.pages.near_places import near_said
from compliance.pages.register import titles_of
from compliance.pages.requests import RequestsPage
from compliance.services import request_near
from compliance.services.request_met import Met
from compliance.services.request_since import late_among, signed_since
from records import lacking
from records.pages.seen import note_seen
from records.register_columns import METRIC, units_of
from records.register_search import COUNTED

SHOWN = 10
MISSING = {
    lacking.LABEL: gettext_lazy("Facts of the label on the container"),
    lacking.LICENCE: gettext_lazy("A licence, valid that day, of who mixed or sprayed"),
    lacking.FIRM_LICENCE: gettext_lazy("A licence of your firm, valid that day"),
    lacking.COPY: gettext_lazy("Word that the customer has their copy"),
    lacking.SIGN: gettext_lazy("Word that the sign was taken down"),
}


class RequestMet(RequestsPage):
    """A page about what meets a request."""

    @cached_property
    def found(self) -> Met:
        return Met(self.asked)

    def some(self, pks: list[UUID] | None) -> dict[str, Any] | None:
        """The first ones, and how many there are; None for more than a few."""
        if pks is None:
            return None
        return {"rows": self.found.shown(pks[:SHOWN]), "count": len(pks) if len(pks) <= COUNTED else None}

    def to_look_at(self) -> dict[str, Any]:
        """What is near and what is wrong, each with its first rows."""
        rules, missing = list(self.found.open_rules()), request_near.missing_papers(self.found)
        titles = titles_of(self.firm, [each.rule for each in rules], self.language)
        return {
            "met": self.some(list(self.found.signed)),
            "unsigned": self.some(self.found.unsigned),
            "void": self.some(self.found.void),
            "around": self.some(self.found.around),
            "held": self.some(self.found.held),
            "near": near_said(self.found, metric=units_of(self.firm) == METRIC),
            "drafts": self.some(request_near.drafts_of_those_days(self.found)),
            "correcting": self.some(self.found.correcting),
            "missing": [(MISSING[each.kind], each.treatments) for each in missing],
            "looked_at": request_near.LOOKED_AT,
            **self._since(),
            "rules": [(each, titles[each.rule], self._found_by(each.rule)) for each in rules],
        }

    def _since(self) -> dict[str, Any]:
        """What was signed after it came in, and which records fit only as they stood before."""
        since = signed_since(self.asked, late_among(self.asked, self.found.signed))
        found = {name: _listed(getattr(since, name)) for name in ("corrected", "first", "followed")}
        return {**found, "no_more": self.found.no_more}

    def _found_by(self, rule: str) -> str:
        """Where the register lists the records that are asked for of which this rule is open."""
        return f"{reverse('register')}?{urlencode({**self.asked.wanted, 'finding': rule})}"


class BeforeAnswering(RequestMet):
    """The part of the request's page that comes after the records."""

    template_name = "compliance/before_answering.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.asked)
        return self.page(asked=self.asked, **self.to_look_at())


def _listed(found: QuerySet[Any]) -> dict[str, Any]:
    """They are sorted by their ids alone: the rows are long."""
    pks = list(found.values_list("pk", flat=True))
    return {"rows": list(found.filter(pk__in=pks[:SHOWN])), "count": len(pks)}
