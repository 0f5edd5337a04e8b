"""Pages note who saw, printed or took out what, before they answer: no entry, no data.

Each look of a person and each call with a token is an entry. What a script on a page asks for by itself, as a
phone that keeps pages for the coming days, is one entry for each person, thing and hour; another search, or
another page of a list, is another thing. A page that a phone shows without a signal was noted when the phone
fetched it.
"""

from datetime import timedelta
from typing import Any
from urllib.parse import unquote_plus

from django.db.models import Model

from records.models import AuditEntry, Firm
from records.services.audit import LONGEST_PAGE, Kind, Thing, note
from shared import clock

AN_HOUR = timedelta(hours=1)
NAVIGATES = "navigate"
KEPT = "kept"
"""The reason of a look that nobody took: a phone fetched the page to keep it."""
KEPT_LISTS = ("home", "roadside", "choices")
"""Lists that a phone keeps, besides the pages of single rows."""
LIST = "page"
SAFE = ("GET", "HEAD")


def note_seen(request: Any, firm: Firm | None, thing: Thing | Model | None = None) -> None:
    """A row that is shown, or without one the list that this page is, with what it was asked for."""
    if thing is None:
        thing = Thing(LIST, request.resolver_match.view_name)
    about = thing if isinstance(thing, Thing) else Thing.of(thing)
    if not (_by_script(request) and _seen_lately(request, firm, about)):
        reason = KEPT if _to_be_kept(request, about) else ""
        note(Kind.VIEWED, about, firm=firm, by=request.user, page=asked(request), reason=reason)


def note_taken(request: Any, firm: Firm, thing: Thing | Model, kind: Kind) -> None:
    """A row that is printed or taken out as a file."""
    note(kind, thing, firm=firm, by=request.user, page=asked(request))


def pattern_of(request: Any) -> str:
    """The pattern of the address that was asked, which holds no id and no secret."""
    return str(request.resolver_match.route)


def asked(request: Any) -> str:
    """The pattern with the search in it, without what no text column takes."""
    query = unquote_plus(request.GET.urlencode()).replace("\0", "")
    return f"{pattern_of(request)}?{query}" if query else pattern_of(request)


def _by_script(request: Any) -> bool:
    """By the browser's own word for it (Fetch Metadata Request Headers, W3C); without one it was a person.

    Whoever holds a token may say anything there, and keeps no pages.
    """
    scripted = request.headers.get("Sec-Fetch-Mode", NAVIGATES) != NAVIGATES
    return bool(scripted and getattr(request, "auth", None) is None)


def _to_be_kept(request: Any, thing: Thing) -> bool:
    kept = thing.kind != LIST or thing.id in KEPT_LISTS
    return kept and not request.GET and _by_script(request) and "HX-Request" not in request.headers


def _seen_lately(request: Any, firm: Firm | None, thing: Thing) -> bool:
    """The same row, or the same part of the same list. What is too long to be kept whole is never the same."""
    looks = AuditEntry.objects.for_firm(firm) if firm else AuditEntry.objects.none()
    lately = looks.filter(thing_id=thing.id, at__gt=clock.now() - AN_HOUR)
    page = asked(request)
    if thing.kind == LIST or request.GET:
        lately = lately.filter(page=page) if len(page) <= LONGEST_PAGE else lately.none()
    return lately.filter(by=request.user.pk, kind=Kind.VIEWED, thing=thing.kind).exists()
