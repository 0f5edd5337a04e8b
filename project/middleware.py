"""What every answer of the site has in common."""

from collections.abc import Callable

from django.http import HttpRequest
from django.http.response import HttpResponseBase

Answer = Callable[[HttpRequest], HttpResponseBase]


def kept_nowhere(answer: Answer) -> Answer:
    """Pages, papers and data of a firm are kept in no cache, unless a view says otherwise."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        response = answer(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        return response

    return middleware
