"""Make a link to a bundle, end it, and give the bundle out to who has its address and its code."""

import hashlib
import re
import secrets
from datetime import datetime
from typing import IO

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction
from django.db.models import F

from compliance.models import HandedLink, Handing
from compliance.request_bundle.folder import file_of
from compliance.services.handings import PERMISSION, NotNowError, take_out
from records.models import AuditEntry, User
from records.permissions import demand
from records.services.audit import change, note
from shared import clock

DIGITS = 8
_TOKEN = re.compile("[0-9a-f]{32}")


class WrongCodeError(ValueError):
    """Not the code of this link."""


@transaction.atomic
def make_link(handing: Handing, by: User, until: datetime) -> tuple[HandedLink, str, str]:
    """The link, the last part of its address and its code, which are kept nowhere. It ends those before.

    Raises PermissionDenied, NotNowError.
    """
    demand(by, PERMISSION, handing)
    locked = Handing.objects.for_firm(handing.firm).select_for_update().get(pk=handing.pk)
    if locked.state != Handing.State.READY:
        raise NotNowError
    end_links(handing, by)
    token, code = secrets.token_hex(16), f"{secrets.randbelow(10**DIGITS):0{DIGITS}}"
    link = HandedLink.objects.create(
        firm=handing.firm, handing=handing, made_by=by, until=until,
        address_digest=_digest(token), code_digest=make_password(code),
    )  # fmt: skip
    changes = [change("until", None, until.isoformat())]
    note(AuditEntry.Kind.CREATED, link, firm=handing.firm, by=by, changes=changes)
    return link, token, code


@transaction.atomic
def end_links(handing: Handing, by: User) -> None:
    """Nobody fetches it by a link any more. Raises PermissionDenied."""
    demand(by, PERMISSION, handing)
    now = clock.now()
    for link in HandedLink.objects.for_firm(handing.firm).filter(handing=handing, ended_at=None):
        link.ended_at = now
        link.save(update_fields=["ended_at"])
        changes = [change("ended_at", None, now.isoformat())]
        note(AuditEntry.Kind.CHANGED, link, firm=handing.firm, by=by, changes=changes)


def link_at(token: str) -> HandedLink | None:
    """What this unguessable address names."""
    if not _TOKEN.fullmatch(token):
        return None
    links = HandedLink.across_firms.select_related("handing__firm", "handing__request", "handing__by", "firm")
    return links.filter(address_digest=_digest(token)).first()


def fetched(link: HandedLink, code: str) -> IO[bytes]:
    """The file, for who has the code; that it went out is kept. Raises WrongCodeError, and NotNowError where
    the link is over.

    A try counts before the code is looked at, so that many at once are no more tries than one after another.
    """
    rows = HandedLink.objects.for_firm(link.firm).filter(pk=link.pk)
    counted = rows.filter(tries__lt=HandedLink.MOST_TRIES).update(tries=F("tries") + 1)
    link.refresh_from_db(fields=["tries", "used_at", "ended_at"])
    if not counted or link.ended_at or clock.now() > link.until or link.is_used:
        raise NotNowError
    if not check_password(re.sub(r"[\s-]", "", code), link.code_digest):
        if link.is_locked:
            note(AuditEntry.Kind.REFUSED, link, firm=link.firm, reason="code")
        raise WrongCodeError
    file = file_of(link.handing).open("rb")
    try:
        with transaction.atomic():
            now = clock.now()
            answer = take_out(link.handing, None)
            rows.update(tries=0, used_at=link.used_at or max(now, answer.at))
    except NotNowError:
        file.close()
        raise
    return file


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
