"""Let a program work for somebody over the API, and put an end to it."""

from collections.abc import Iterable
from datetime import timedelta

from django.db import transaction
from django.db.models import QuerySet
from knox.models import get_digest_token

from records.models import AuditEntry, Firm, ProgramToken, User
from records.permissions import demand
from records.services.audit import Thing, change, firms_of, note
from shared import clock

MOST = 20
"""Tokens that one person has at a time."""


class TooManyTokensError(ValueError):
    """The person has as many as anybody may."""


def tokens_for(firm: Firm, user: User) -> QuerySet[ProgramToken]:
    """Those that still work: own ones, and of a manager all of the firm."""
    rows = ProgramToken.objects.for_firm(firm).filter(ended_at=None, expiry__gt=clock.now())
    everybody = user.has_perm("records.end_programs", firm)
    return rows.select_related("user") if everybody else rows.select_related("user").filter(user=user)


@transaction.atomic
def make_token(firm: Firm, user: User, name: str, scopes: Iterable[str], days: int) -> tuple[ProgramToken, str]:
    """The row, and the token, which is told here alone. Raises PermissionDenied and TooManyTokensError."""
    demand(user, "records.use_programs", firm)
    Firm.objects.for_firm(firm).select_for_update().get()
    working = ProgramToken.objects.for_firm(firm).filter(user=user, ended_at=None, expiry__gt=clock.now())
    if working.count() >= MOST:
        raise TooManyTokensError(name)
    digest, token = get_digest_token()
    row = ProgramToken.objects.create(
        firm=firm, user=user, name=name, scopes=sorted(scopes), digest=digest, token_key=token[:15],
        expiry=clock.now() + timedelta(days=days),
    )  # fmt: skip
    changes = [change("scopes", None, row.scopes), change("expiry", None, row.expiry.isoformat())]
    note(AuditEntry.Kind.CREATED, _thing(row), firm=firm, by=user, changes=changes)
    return row, token


@transaction.atomic
def end_token(row: ProgramToken, by: User) -> None:
    """From now on it opens nothing. Raises PermissionDenied for somebody else's, but to a manager."""
    if row.user_id != by.pk:
        demand(by, "records.end_programs", row)
    if row.ended_at is None:
        _end(row, by)


@transaction.atomic
def end_tokens_of(user: User, by: User) -> bool:
    """Whether there were any. All that this person made, in each of their firms, as after another password:
    whoever had the old one may have made some."""
    of_firms = [ProgramToken.objects.for_firm(firm).filter(user=user, ended_at=None) for firm in firms_of(user)]
    working = [row for rows in of_firms for row in rows.select_related("firm")]
    for row in working:
        _end(row, by)
    return bool(working)


def _end(row: ProgramToken, by: User) -> None:
    row.ended_at = clock.now()
    row.save(update_fields=["ended_at"])
    note(AuditEntry.Kind.REMOVED, _thing(row), firm=row.firm, by=by)


def _thing(row: ProgramToken) -> Thing:
    """By its own id: the primary key is the digest of a secret."""
    return Thing("records.programtoken", str(row.uuid), row.name)
