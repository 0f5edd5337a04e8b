"""Files of people and parcels: sent in, looked at with all that is wrong, and taken as a whole or dropped."""

from typing import Any

from django.contrib import messages
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _

from records.forms.neighbours import FileForm, RegisterFileForm, SiteFileForm
from records.imports.columns import MEMBERS
from records.models import Neighbour, PeopleFile, Register, Site
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.people_files import (
    ALLOWED,
    FaultyFileError,
    Looked,
    drop,
    keep_file,
    look,
    take,
    taken_before,
)
from shared.wording import shortened

MOST_SHOWN = 100
SAMPLE = 5


class Registers(FirmPage):
    """The registers that were brought in: whose, from where, as of when, and how many are on them."""

    permission = "records.edit_neighbours"
    template_name = "records/registers.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        registers = Register.objects.for_firm(self.firm).annotate(count=Count("persons"))
        return self.page(registers=registers)


class SendFile(FirmPage):
    """Send a file of a site; it is kept until somebody has looked at it."""

    permission = "records.edit_neighbours"
    template_name = "records/people_file_send.html"
    kind = ""

    def site(self) -> Site | None:
        return get_object_or_404(Site.objects.for_firm(self.firm), pk=self.kwargs["site"])

    def form(self, *args: Any) -> FileForm:
        return SiteFileForm(*args)

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        note_seen(request, self.firm, site)
        return self.page(site=site, form=self.form())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        site = self.site()
        form = self.form(request.POST, request.FILES)
        if not form.is_valid():
            return self.page(status=422, site=site, form=form)
        given = form.cleaned_data
        said = (given.get("kind") or self.kind, given["source"].strip(), given["as_of"])
        file = keep_file(given["file"].read(), *said, request.user, self.firm, site, **form.asked())
        return redirect("people_file", file=file.pk)


class SendRegister(SendFile):
    kind = PeopleFile.Kind.REGISTER

    def site(self) -> Site | None:
        return None

    def form(self, *args: Any) -> FileForm:
        return RegisterFileForm(self.firm, *args)


class PeopleFilePage(FirmPage):
    """What a file holds and would do."""

    permission = "records.edit_neighbours"
    template_name = "records/people_file.html"

    def file(self) -> PeopleFile:
        waiting = PeopleFile.objects.for_firm(self.firm).filter(taken_at=None)
        return get_object_or_404(waiting.select_related("site", "firm", "by"), pk=self.kwargs["file"])

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        file = self.file()
        note_seen(request, self.firm, file)
        return self._show(file, look(file))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        file = self.file()
        back = redirect("neighbours", site=file.site_id) if file.site_id else redirect("registers")
        if "drop" in request.POST:
            drop(file, request.user)
            return back
        self._note_what_was_said(file, request)
        if "take" not in request.POST:
            return redirect("people_file", file=file.pk)
        try:
            outcome = take(file, request.user)
        except FaultyFileError:
            return self._show(file, look(file), status=422)
        counts = {"new": len(outcome.new), "changed": len(outcome.changed), "gone": len(outcome.gone)}
        said = [_("Taken in: %(new)s new, %(changed)s changed, %(gone)s gone.") % counts]
        if file.kind == PeopleFile.Kind.PARCELS:
            said.append(_("Neighbours listed from it: %(n)s.") % {"n": len(outcome.listed)})
        messages.success(request, " ".join(said))
        return back

    def _note_what_was_said(self, file: PeopleFile, request: HttpRequest) -> None:
        if "own" in request.POST:
            file.asked["own"] = request.POST["own"].strip()[:100]
        if columns := request.POST.getlist("columns"):
            allowed = ALLOWED[PeopleFile.Kind(file.kind)]
            file.asked["columns"] = [each if each in allowed else "" for each in columns]
        file.save(update_fields=["asked"])

    def _show(self, file: PeopleFile, looked: Looked, status: int = 200) -> HttpResponse:
        allowed = ALLOWED.get(PeopleFile.Kind(file.kind), ())
        return self.page(
            status=status,
            file=file,
            looked=looked,
            faults=looked.faults[:MOST_SHOWN],
            more_faults=max(0, len(looked.faults) - MOST_SHOWN),
            columns=_columns(looked),
            choices=[(name, MEMBERS[name].say(self.language)) for name in allowed],
            before=taken_before(file),
            taken_for=[(cell, Neighbour.Standing(word).label) for cell, word in looked.taken_for],
        )


def _columns(looked: Looked) -> list[tuple[int, str, str, str]]:
    """Each column by its place, with its name, what it is taken for, and what stands in its first rows."""
    table = looked.table
    if table is None:
        return []
    cells = [[row.cells[place] for row in table.rows[:SAMPLE]] for place in range(len(table.header))]
    samples = [" · ".join(shortened(cell) for cell in column if cell) for column in cells]
    return list(zip(range(len(cells)), table.header, looked.columns, samples, strict=True))
