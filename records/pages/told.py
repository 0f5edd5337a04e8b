"""The page of a person who was told of a treatment: what they were told, what has changed, and their answer.

Whoever has the address may see it, without an account; no search engine finds it, it sets no cookie, and
leads no address on to another site.
"""

from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.decorators import method_decorator
from django.utils.translation import gettext_lazy as _
from django.views import View
from django.views.decorators.csrf import csrf_exempt

from records.models import NoticeTask
from records.outbox.told import ANSWERS, LONGEST_WORDS, answer, told_at
from records.pages.proof import too_often

LABELS = {
    NoticeTask.Kind.SENSITIVE: _("I am sensitive to such products"),
    NoticeTask.Kind.BY_PHONE: _("Please tell me by phone"),
    NoticeTask.Kind.WRONG_ADDRESS: _("This came to the wrong address"),
}


@method_decorator(csrf_exempt, name="dispatch")
class ToldPage(View):
    """Who posts here has to know the address, and has no session that another site could use."""

    http_method_names = ["get", "head", "post", "options"]

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        limited = too_often(request)
        self.told = None if limited else told_at(kwargs["token"])
        with translation.override(self.language):
            if limited:
                response: HttpResponseBase = self.page("too_often", status=429)
                response.headers["Retry-After"] = "60"
            elif self.told is None:
                response = self.page("unknown", status=404)
            elif self.told.over:
                response = self.page("over", status=410)
            else:
                response = super().dispatch(request, *args, **kwargs)
        response.headers["X-Robots-Tag"] = "noindex, nofollow, noarchive"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.headers["Cache-Control"] = "private, no-store"
        response.headers["Content-Language"] = self.language
        return response

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        return self.page("told")

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        taken = self.told and answer(
            self.told, request.POST.get("answer", ""), request.POST.get("words", "")[:LONGEST_WORDS]
        )
        return self.page("thanks" if taken else "told", status=200 if taken else 400)

    @property
    def language(self) -> str:
        """That of the link, else the first of the notice, else the one that the browser asks for."""
        wanted = self.request.GET.get("language")
        own = self.told.notice.languages[:1] if self.told and not wanted else []
        known = dict(settings.LANGUAGES)
        return next((one for one in (wanted, *own) if one in known), translation.get_language()[:2])

    def page(self, what: str, status: int = 200) -> HttpResponse:
        """Drawn without the request: no session, nothing that would set a cookie."""
        answers = [kind for kind in ANSWERS if self.told and kind not in self.told.answered]
        context = {
            "what": what,
            "told": self.told,
            "language": self.language,
            "languages": [(code, name) for code, name in settings.LANGUAGES if code != self.language],
            "answers": [(kind.value, LABELS[kind]) for kind in answers],
            "longest": LONGEST_WORDS,
        }
        return HttpResponse(render_to_string("records/told.html", context), status=status)
