"""A middleware that notes what was refused: no permission, and a row that is not there or is another firm's.

It keeps the pattern of the address, never the address itself: some hold a secret. Who is not signed in could
fill the disk with refusals, so of strangers each address is noted once an hour.
"""

from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID

from django.http import HttpRequest
from django.http.response import HttpResponseBase

from records.current_firm import current_membership
from records.models import AuditEntry
from records.pages.seen import pattern_of
from records.services.audit import Thing, note
from shared import clock

Answer = Callable[[HttpRequest], HttpResponseBase]
UNAUTHORIZED, FORBIDDEN, NOT_FOUND = 401, 403, 404
AN_HOUR = timedelta(hours=1)
WHY = {UNAUTHORIZED: "not-allowed", FORBIDDEN: "not-allowed", NOT_FOUND: "not-there"}


def noted(answer: Answer) -> Answer:
    def middleware(request: HttpRequest) -> HttpResponseBase:
        response = answer(request)
        by_script = response.status_code == UNAUTHORIZED and "WWW-Authenticate" not in response.headers
        if response.status_code in WHY and request.resolver_match and not by_script:
            _note(request, response.status_code)
        return response

    return middleware


def _note(request: HttpRequest, status: int) -> None:
    """A 404 counts where the address names a row. Rows are asked for within the firm alone, so that it is not
    known here, and not asked, whether another firm has it."""
    named = _named_row(request)
    member = current_membership(request) if request.user.is_authenticated else None
    if status == NOT_FOUND and not (request.user.is_authenticated and named):
        return
    page = f"{request.method} {pattern_of(request)}"
    if not request.user.is_authenticated and _noted_lately(page):
        return
    note(
        AuditEntry.Kind.REFUSED,
        Thing("page", named),
        firm=member.firm if member else None,
        by=request.user,
        reason=WHY[status],
        page=page,
    )


def _named_row(request: HttpRequest) -> str:
    """The id in the address, of several the last: that of the row which the others hold."""
    given: dict[str, Any] = request.resolver_match.kwargs
    named = [str(value) for name, value in given.items() if isinstance(value, UUID) or name == "object_id"]
    return named[-1] if named else ""


def _noted_lately(page: str) -> bool:
    lately = AuditEntry.across_firms.filter(firm=None, by=None, at__gt=clock.now() - AN_HOUR)
    return lately.filter(kind=AuditEntry.Kind.REFUSED, page=page).exists()
