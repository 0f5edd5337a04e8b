"""Who lives near a site: the list, its rows by hand, and the word that it is complete."""

from typing import Any, ClassVar
from uuid import UUID
from zoneinfo import ZoneInfo

from django.forms import ModelForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext_lazy as _

from records.forms.neighbours import CompleteForm, NeighbourForm, OccupantForm
from records.models import Neighbour, Occupant, Site
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.people_near import list_of, listed_after, registered_near, registers_for
from records.permissions import demand
from records.services.neighbours import remove_person, save_person, state_complete
from shared import clock

EDITS = "records.edit_neighbours"
PAGE = 200


class SitePage(FirmPage):
    permission = "records.view_neighbours"

    def site(self) -> Site:
        sites = Site.objects.for_firm(self.firm).select_related("customer", "firm")
        return get_object_or_404(sites, pk=self.kwargs["site"])


class Neighbours(SitePage):
    template_name = "records/neighbours.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        note_seen(request, self.firm, site)
        return self._show(site, CompleteForm(initial={"as_of": self._today(site)}))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        demand(request.user, EDITS, self.firm)
        form = CompleteForm(request.POST)
        if not form.is_valid():
            return self._show(site, form, status=422)
        state_complete(site, form.cleaned_data["as_of"], form.cleaned_data["source"], request.user)
        return redirect("neighbours", site=site.pk)

    def _show(self, site: Site, form: CompleteForm, status: int = 200) -> HttpResponse:
        neighbours = Neighbour.objects.for_firm(self.firm).filter(site=site).select_related("file", "parcel")
        last = neighbours.filter(pk=_uuid(self.request.GET.get("after", ""))).first()
        shown = list(listed_after(neighbours, last)[: PAGE + 1])
        return self.page(
            status=status,
            site=site,
            form=form,
            statement=list_of(site),
            neighbours=shown[:PAGE],
            count=neighbours.count(),
            first=last is None,
            after=shown[PAGE - 1].pk if len(shown) > PAGE else None,
            occupants=Occupant.objects.for_firm(self.firm).filter(site=site),
            registers=registers_for(site),
            registered=registered_near(site),
            may_edit=self.may(EDITS),
        )

    def _today(self, site: Site) -> Any:
        return clock.now().astimezone(ZoneInfo(site.time_zone or self.firm.time_zone)).date()


def _uuid(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None


class NeighbourPage(SitePage):
    """One neighbour: added, changed, or taken out."""

    permission = EDITS
    template_name = "records/neighbour.html"
    model: ClassVar[type[Any]] = Neighbour
    form_class: ClassVar[type[ModelForm]] = NeighbourForm
    titles: ClassVar[tuple[Any, Any]] = (_("Add a neighbour"), _("Change a neighbour"))

    def row(self, site: Site) -> Any:
        if "row" in self.kwargs:
            return get_object_or_404(self.model.objects.for_firm(self.firm), site=site, pk=self.kwargs["row"])
        town = {name: getattr(site, name) for name in ("city", "region", "postcode", "country")}
        return self.model(firm=self.firm, site=site, **town)

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        row = self.row(site)
        note_seen(request, self.firm, site if row._state.adding else row)
        return self._show(site, row, self.form_class(instance=row))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        row = self.row(site)
        if "remove" in request.POST and not row._state.adding:
            remove_person(row, request.user)
            return redirect("neighbours", site=site.pk)
        form = self.form_class(request.POST, instance=row)
        if not form.is_valid():
            return self._show(site, row, form, status=422)
        save_person(form.save(commit=False), request.user)
        return redirect("neighbours", site=site.pk)

    def _show(self, site: Site, row: Any, form: Any, status: int = 200) -> HttpResponse:
        title = self.titles[0 if row._state.adding else 1]
        return self.page(status=status, site=site, form=form, title=title, is_there=not row._state.adding)


class OccupantPage(NeighbourPage):
    """Somebody on the treated site itself."""

    model = Occupant
    form_class = OccupantForm
    titles = (_("Add an occupant of the site"), _("Change an occupant"))
