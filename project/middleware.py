"""What every answer of the site has in common."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils import timezone

from records.current_firm import managed_firm
from shared.times import read_zone

Answer = Callable[[HttpRequest], HttpResponseBase]
LARGEST_BODY = 30 * 1024 * 1024
"""A photo with its form; whoever sends more, signed in or not, is not listened to."""


def bounded(answer: Answer) -> Answer:
    """Refuse a body that says it is larger, before a byte of it is read."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        length = request.META.get("CONTENT_LENGTH") or "0"
        if not length.isdigit() or int(length) > LARGEST_BODY:
            return HttpResponse(status=413)
        return answer(request)

    return middleware


def kept_nowhere(answer: Answer) -> Answer:
    """Pages, papers and data of a firm are kept in no cache, unless a view says otherwise."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        response = answer(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        return response

    return middleware


def on_the_firms_clock(answer: Answer) -> Answer:
    """Times that are typed and read in the reference data are those of the firm's time zone."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        within = request.path.startswith(reverse("admin:index")) and request.user.is_authenticated
        firm = managed_firm(request) if within else None
        with timezone.override(read_zone(firm.time_zone) if firm else None):
            return answer(request)

    return middleware
