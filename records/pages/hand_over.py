"""Hand over: what the register has found, or one record, as a bundle that anyone can check. For managers."""

from collections.abc import Sequence
from contextlib import ExitStack
from tempfile import TemporaryFile
from typing import IO, Any
from uuid import UUID

from django.db.models import Exists, OuterRef, QuerySet
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _

from records.bundle.writer import Beside, NothingToBundleError, nothing_beside
from records.forms.hand_over import HandOverForm
from records.forms.register_search import RegisterSearch, search_in
from records.models import SignedRecord, Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import asked, note_seen
from records.register_search import treatments_of
from records.services.handing_over import hand_over
from shared import clock

MOST, MOST_WITH_SHEETS = 500, 100
"""Treatments at once from a page; the command `write_bundle` knows no bound."""


class HandOver(FirmPage):
    """What the register has found by the search in the address."""

    permission = "records.hand_over"
    template_name = "records/hand_over.html"
    form_class: type[HandOverForm] = HandOverForm

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        if self.unknown_words():
            return self._asked_for_what(self.form_class({}))
        if (found := self.found()) is None:
            return redirect(f"{reverse('register')}?{request.GET.urlencode()}")
        note_seen(request, self.firm)
        return self._show(self.form_class(initial=self.initial()), found.count())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        form, found = self.form_class(request.POST), self.found()
        if found is None or self.unknown_words():
            return self._asked_for_what(form)
        treatments = list(found.values_list("pk", flat=True)[: MOST + 1])
        if form.is_valid() and len(treatments) > most(form.cleaned_data):
            form.add_error(None, _too_many())
        if not form.is_valid():
            return self._show(form, found.count(), status=422)
        return self._bundle(form.cleaned_data, treatments)

    def found(self) -> QuerySet[Treatment] | None:
        """The treatments that have something signed; None for a search that makes no sense."""
        search = search_in(self.firm, self.request.GET, findings=True)
        if not search.is_valid():
            return None
        return self._signed(treatments_of(self.firm, search.wanted()))

    def unknown_words(self) -> set[str]:
        """What the address asks for that the register can't search by: left unread, more would be found."""
        return set(self.request.GET) - set(RegisterSearch.base_filters)

    def initial(self) -> dict[str, Any]:
        """What the form begins with, where that is not as always."""
        return {}

    def hand(
        self, treatments: list[UUID], out: IO[bytes], wanted: dict[str, Any], what: dict[str, Any]
    ) -> None:
        """Write the bundle. Raises NothingToBundleError."""
        hand_over(self.firm, treatments, out, wanted["withheld"], by=self.request.user, **what)

    def sheets(self, languages: Sequence[str]) -> Beside:
        """What draws the papers beside a record's data; here none is known."""
        return nothing_beside

    def name(self) -> str:
        return f"records-{clock.now():%Y-%m-%d}"

    def about(self) -> dict[str, Any]:
        """What the page says beside the form."""
        query = self.request.GET.urlencode()
        return {
            "searching": bool(query),
            "back": f"{reverse('register')}?{query}" if query else reverse("register"),
        }

    def _signed(self, treatments: QuerySet[Treatment]) -> QuerySet[Treatment]:
        signed = SignedRecord.objects.for_firm(self.firm).filter(treatment=OuterRef("pk"))
        return treatments.filter(Exists(signed))

    def _bundle(self, wanted: dict[str, Any], treatments: list[UUID]) -> HttpResponseBase:
        page = asked(self.request)
        try:
            with ExitStack() as until_it_leaves:
                out = until_it_leaves.enter_context(TemporaryFile())
                beside = self.sheets(wanted["sheets"])
                what = {"photos": bool(wanted["photos"]), "beside": beside, "page": page}
                self.hand(treatments, out, wanted, what)
                until_it_leaves.pop_all()
        except NothingToBundleError:
            form = self.form_class(self.request.POST)
            form.add_error(None, _("Nothing of this is signed, so there is nothing to hand over."))
            return self._show(form, 0, status=422)
        out.seek(0)
        name = f"{self.name()}.zip"
        return FileResponse(out, as_attachment=True, filename=name, content_type="application/zip")

    def _asked_for_what(self, form: HandOverForm) -> HttpResponse:
        form.errors.clear()
        form.add_error(None, _("This search can't be understood, so nothing is handed over. Search again."))
        return self.page(form=form, status=400, misread=True, **self.about())

    def _show(self, form: HandOverForm, count: int, status: int = 200) -> HttpResponse:
        return self.page(form=form, count=count, status=status, **self.bounds(), **self.about())

    def bounds(self) -> dict[str, int]:
        """How many treatments at once, as the page says it; nothing where there is no bound."""
        return {"most": MOST, "most_with_sheets": MOST_WITH_SHEETS}


class HandOverOne(HandOver):
    """One treatment's record, in all its versions."""

    def found(self) -> QuerySet[Treatment]:
        one = self._signed(Treatment.objects.for_firm(self.firm).filter(pk=self.kwargs["uuid"]))
        if not one:
            raise Http404("nothing is signed")
        return one

    def unknown_words(self) -> set[str]:
        return set()

    def name(self) -> str:
        return f"record-{self._one.number}"

    def about(self) -> dict[str, Any]:
        return {"treatment": self._one, "back": reverse("treatment", kwargs=self.kwargs)}

    @property
    def _one(self) -> Treatment:
        return self.found()[0]


def most(wanted: dict[str, Any]) -> int:
    """How many treatments at once."""
    return MOST_WITH_SHEETS if wanted["sheets"] or wanted["photos"] else MOST


def _too_many() -> str:
    said = _("At most %(most)d treatments at once, %(sheets)d with record sheets or photos. Search for fewer.")
    return said % {"most": MOST, "sheets": MOST_WITH_SHEETS}
