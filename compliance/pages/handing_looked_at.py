"""Look at a bundle before it goes: it counts as seen, and not as handed over."""

from typing import Any

from django.http import FileResponse, Http404, HttpRequest
from django.http.response import HttpResponseBase

from compliance.pages.handings import OneHanding
from compliance.request_bundle.inside import WHOLE, look_into
from records.pages.seen import note_seen


class LookAtHanding(OneHanding):
    http_method_names = ["get", "head", "options"]

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:  # type: ignore[override]
        handing, name = self.handing, kwargs["name"]
        try:
            file = look_into(handing, name)
        except FileNotFoundError as none:
            raise Http404("not in it") from none
        note_seen(request, self.firm, handing)
        whole = name == WHOLE
        called = f"look-at-{str(handing.pk)[:8]}-{name.rpartition('/')[2]}"
        kind = "application/zip" if whole else "application/pdf"
        return FileResponse(file, as_attachment=whole, filename=called, content_type=kind)
