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
from records.outbox.person_says import LONGEST_WORDS, Heard, answer, answers_to, language_of, take_back
from records.outbox.told import told_at
from records.pages.proof import too_often

Kind = NoticeTask.Kind
LABELS = {
    Kind.SENSITIVE: _("I am sensitive to such products"),
    Kind.BY_PHONE: _("Please tell me by phone"),
    Kind.OTHER_WAY: _("Please do not tell me this way again"),
    Kind.WRONG_ADDRESS: _("This came to the wrong address"),
}
FAULTS = {
    Heard.EMPTY: _("Write something first, or choose an answer."),
    Heard.FULL: _("You have written so often that no more is taken here. Please call the firm."),
}
STATUS = {Heard.KEPT: 200, Heard.NO_ANSWER: 400}


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
        if self.told is None:
            return self.page("unknown", status=404)
        words = request.POST.get("words", "")
        if taken_back := request.POST.get("take_back", ""):
            heard = take_back(self.told, taken_back)
        else:
            heard = answer(self.told, request.POST.get("answer", ""), words)
        self.told = told_at(self.told.notice.token)
        what = "told" if heard != Heard.KEPT else "taken_back" if taken_back else "thanks"
        return self.page(what, STATUS.get(heard, 422), fault=FAULTS.get(heard, ""), words=words)

    @property
    def language(self) -> str:
        """That of the link, else of the notice: of several the person's own, else the one that the browser asks
        for."""
        wanted, asked = self.request.GET.get("language"), translation.get_language()[:2]
        own = [language_of(self.told.notice, asked)] if self.told else []
        return next((one for one in (wanted, *own) if one in dict(settings.LANGUAGES)), asked)

    def page(self, what: str, status: int = 200, fault: Any = "", words: str = "") -> HttpResponse:
        """Drawn without the request: no session, nothing that would set a cookie."""
        kinds = answers_to(self.told.notice) if self.told else ()
        said = self.told.answered if self.told else ()
        context = {
            "what": what,
            "told": self.told,
            "language": self.language,
            "languages": [(code, name) for code, name in settings.LANGUAGES if code != self.language],
            "answers": [(kind.value, LABELS[kind]) for kind in kinds if kind not in said],
            "said": [(kind.value, LABELS[kind]) for kind in kinds if kind in said],
            "may_opt_out": Kind.OTHER_WAY in kinds and Kind.OTHER_WAY not in said,
            "fault": fault,
            "words": words[:LONGEST_WORDS] if fault else "",
            "longest": LONGEST_WORDS,
        }
        return HttpResponse(render_to_string("records/told.html", context), status=status)
