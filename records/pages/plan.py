"""Planning: choose the site, then say what is to be done there."""

from datetime import date
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _

from records.document.faults import DocumentFaults
from records.forms.come_back import comes_back, is_unfinished, next_working_day
from records.forms.plan import PlanForm, as_planned
from records.holding import holding
from records.models import Site, Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.planning import plan_treatment
from shared import clock

MOST_SITES = 50


class ChooseSite(FirmPage):
    permission = "records.plan_treatment"
    template_name = "records/plan_site.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        wanted = request.GET.get("q", "").strip()
        sites = Site.objects.for_firm(self.firm).select_related("customer")
        sites = holding(sites, wanted, ("name", "customer__name", "line1"))
        found = list(sites[: MOST_SITES + 1])
        return self.page(sites=found[:MOST_SITES], more=len(found) > MOST_SITES, wanted=wanted)


class PlanTreatment(FirmPage):
    permission = "records.plan_treatment"
    template_name = "records/plan.html"

    def site(self) -> Site:
        return get_object_or_404(Site.objects.for_firm(self.firm), pk=self.kwargs["site"])

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        note_seen(request, self.firm, site)
        form = PlanForm(site, self.firm, initial=self._as_before(site))
        return self._show(site, form)

    def _like(self, site: Site) -> Treatment | None:
        """The treatment of this site that is to be taken up again, if one is named."""
        try:
            uuid = UUID(self.request.GET.get("like", ""))
        except ValueError:
            return None
        return Treatment.objects.for_firm(self.firm).filter(pk=uuid, site=site).first()

    def _as_before(self, site: Site) -> dict[str, Any]:
        """What that treatment was planned with; no day where its label would not allow the next one."""
        like = self._like(site)
        if like is None:
            return {}
        day = self._next_day(like)
        return as_planned(like.document) | {"day": None if comes_back(like, day).waits else day}

    def _next_day(self, like: Treatment) -> date:
        zone = ZoneInfo(like.site.time_zone or self.firm.time_zone)
        return next_working_day(like, clock.now().astimezone(zone).date())

    def _show(self, site: Site, form: PlanForm, status: int = 200) -> HttpResponse:
        like = self._like(site)
        again = comes_back(like, self._next_day(like)) if like and is_unfinished(like.document) else None
        return self.page(status=status, site=site, form=form, again=again, like=like)

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        form = PlanForm(site, self.firm, request.POST)
        if not form.is_valid():
            return self._show(site, form, status=422)
        try:
            treatment = plan_treatment(self.firm, request.user, form.plan())
        except DocumentFaults as error:
            for fault in error.faults:
                form.add_error(None, fault.say(self.language))
            return self._show(site, form, status=422)
        messages.success(request, _("Treatment %(number)s is planned.") % {"number": treatment.number})
        return redirect("treatment", uuid=treatment.pk)
