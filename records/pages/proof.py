"""The page that the QR code on a record sheet leads to. Anyone may see it; it tells nothing of people, is found
by no search engine, sets no cookie and leads no address on to another site."""

from typing import Any

from django.conf import settings
from django.core.cache import caches
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.http.response import HttpResponseBase
from django.template.loader import render_to_string
from django.utils import translation
from django.views import View

from records.asked_from import asked_from
from records.proof import RecordProof, as_file, proof_at
from shared import clock

MOST_IN_A_MINUTE = 60
"""Of one address of the network."""


class OpenProof(View):
    """Finds what the address names, within bounds; a subclass answers."""

    http_method_names = ["get", "head", "options"]

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        with translation.override(self.language):
            answer = super().dispatch(request, *args, **kwargs)
        answer.headers["X-Robots-Tag"] = "noindex, nofollow, noarchive"
        answer.headers["Referrer-Policy"] = "no-referrer"
        answer.headers["Content-Language"] = self.language
        return answer

    def get(self, request: HttpRequest, token: str) -> HttpResponse:
        if too_often(request):
            answer = self.page("too_often", status=429)
            answer.headers["Retry-After"] = "60"
            return answer
        proof = proof_at(token)
        return self.show(proof) if proof else self.page("unknown", status=404)

    @property
    def language(self) -> str:
        """That of the link, else the one that the browser asks for."""
        wanted = self.request.GET.get("language")
        return wanted if wanted in dict(settings.LANGUAGES) else translation.get_language()[:2]

    def page(self, what: str, status: int = 200, **context: Any) -> HttpResponse:
        """Drawn without the request: no session, no form, nothing that would set a cookie."""
        languages = [(code, name) for code, name in settings.LANGUAGES if code != self.language]
        shared = {"what": what, "language": self.language, "languages": languages}
        return HttpResponse(render_to_string("records/proof.html", shared | context), status=status)

    def show(self, proof: RecordProof) -> HttpResponse:
        raise NotImplementedError


class ProofPage(OpenProof):
    def show(self, proof: RecordProof) -> HttpResponse:
        zone = proof.record.firm.time_zone
        return self.page("proof", proof=proof, record=proof.record, place=proof.place, zone=zone)


class ProofFile(OpenProof):
    def show(self, proof: RecordProof) -> HttpResponse:
        if proof.place is None:
            return self.page("unknown", status=404)
        answer = JsonResponse(as_file(proof, proof.place), json_dumps_params={"indent": 1})
        name = f"{proof.record.treatment.number}-{proof.record.version}-proof.json"
        answer["Content-Disposition"] = f'attachment; filename="{name}"'
        return answer


def too_often(request: HttpRequest) -> bool:
    """A bound on what one computer makes the service do; it keeps nobody from guessing 128 bits."""
    counts = caches["proof"]
    key = f"{asked_from(request.META)}-{int(clock.now().timestamp()) // 60}"
    counts.add(key, 0, timeout=120)
    try:
        return bool(counts.incr(key) > MOST_IN_A_MINUTE)
    except ValueError:
        return False  # another thread made room just now, and threw this count out
