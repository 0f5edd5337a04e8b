"""The page by which whoever asked for records fetches their bundle: no account, a code that works once.

It says nothing of anybody, sets no cookie, is found by no search engine, and gives nothing out by itself.
"""

from typing import Any

from django.conf import settings
from django.http import FileResponse, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.decorators import method_decorator
from django.utils.translation import gettext as _
from django.views import View
from django.views.decorators.csrf import csrf_exempt

from compliance.services.handed_links import WrongCodeError, fetched, link_at
from compliance.services.handings import NotNowError
from records.pages.proof import too_often


@method_decorator(csrf_exempt, name="dispatch")
class HandedPage(View):
    """Who posts here has to know the address, and has no session that another site could use."""

    http_method_names = ["get", "head", "post", "options"]

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        limited = too_often(request)
        self.link = None if limited else link_at(kwargs["token"])
        with translation.override(self.language):
            if limited:
                answer: HttpResponseBase = self.page("too_often", status=429)
                answer.headers["Retry-After"] = "60"
            elif self.link is None:
                answer = self.page("unknown", status=404)
            elif self.link.is_over:
                answer = self.page("over", status=410)
            else:
                answer = super().dispatch(request, *args, **kwargs)
        answer.headers["X-Robots-Tag"] = "noindex, nofollow, noarchive"
        answer.headers["Referrer-Policy"] = "no-referrer"
        answer.headers["Cache-Control"] = "private, no-store"
        answer.headers["Content-Language"] = self.language
        return answer

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        return self.page("asked")

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        if self.link is None:
            return self.page("unknown", status=404)
        try:
            file = fetched(self.link, request.POST.get("code", ""))
        except WrongCodeError:
            if self.link.is_over:
                return self.page("over", status=410)
            fault = _("This is not the code of this link. Compare each digit.")
            return self.page("asked", status=422, fault=fault)
        except (NotNowError, FileNotFoundError):
            return self.page("over", status=410)
        name = f"records-{str(self.link.handing_id)[:8]}.zip"
        return FileResponse(file, as_attachment=True, filename=name, content_type="application/zip")

    @property
    def language(self) -> str:
        """That of the link, else the one that the browser asks for."""
        wanted = self.request.GET.get("language")
        return wanted if wanted in dict(settings.LANGUAGES) else translation.get_language()[:2]

    def page(self, what: str, status: int = 200, fault: str = "") -> HttpResponse:
        """Drawn without the request: no session, nothing that would set a cookie."""
        context = {
            "what": what,
            "link": self.link,
            "fault": fault,
            "left": self.link.MOST_TRIES - self.link.tries if self.link else 0,
            "language": self.language,
            "languages": [(code, name) for code, name in settings.LANGUAGES if code != self.language],
        }
        return HttpResponse(render_to_string("compliance/handed.html", context), status=status)
