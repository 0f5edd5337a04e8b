"""The way out: a file with everything of the firm. For managers."""

from contextlib import suppress
from typing import Any

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from records.models import AuditEntry, WayOut
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen, note_taken
from records.services.way_out import PERMISSION, UnderWayError, begin


class TheWayOut(FirmPage):
    """What it is, and the newest file: being made, there, or gone."""

    permission = PERMISSION
    template_name = "records/way_out.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        newest = WayOut.objects.for_firm(self.firm).select_related("by").first()
        done, of = newest.far if newest else (0, 0)
        return self.page(file=newest, done=done, of=of, days=WayOut.KEPT.days)

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        with suppress(UnderWayError):  # the page shows how far it is
            begin(self.firm, request.user)
        return redirect("way_out")


class WayOutFile(FirmPage):
    """The file itself."""

    permission = PERMISSION

    def get(self, request: HttpRequest, **_kwargs: Any) -> FileResponse:
        row = get_object_or_404(WayOut.objects.for_firm(self.firm), pk=self.kwargs["file"])
        if not row.is_there:
            raise Http404("it is not kept any more")
        note_taken(request, self.firm, row, AuditEntry.Kind.EXPORTED)
        name = f"firm-{row.at:%Y-%m-%d}.zip"
        return FileResponse(
            row.path.open("rb"), as_attachment=True, filename=name, content_type="application/zip"
        )
