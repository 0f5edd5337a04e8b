"""Tell a firm's managers at once when somebody may be trying a person's password, passkey or second step."""

from datetime import timedelta

from django.db import transaction
from django.db.models import QuerySet

from records.models import AuditEntry, Firm, MisuseAlert, MisuseLookedAt, User
from records.permissions import demand
from records.services.audit import change, firms_of, note
from shared import clock

TRIES, WITHIN = 5, timedelta(hours=1)
"""A person mistypes, too: so many within that time are told. Common practice, no source."""
REASONS = ("password", "second-step", "signing-password", "signing-passkey", "too-many-tries")
FAILED = (AuditEntry.Kind.SIGN_IN_FAILED, AuditEntry.Kind.REFUSED)


def watch(user: User) -> None:
    """Call it after a try of this person's that failed was noted."""
    for firm in firms_of(user):
        _watch(firm, user)


@transaction.atomic
def look_at_alert(alert: MisuseAlert, by: User) -> None:
    """Note that a manager looked at it; twice is once. Raises PermissionDenied."""
    demand(by, "records.view_audit", alert)
    _look, new = MisuseLookedAt.objects.for_firm(alert.firm).get_or_create(
        alert=alert, defaults={"firm": alert.firm, "by": by}
    )
    if new:
        note(AuditEntry.Kind.LOOKED_AT, alert, firm=alert.firm, by=by)


def alerts_of(firm: Firm) -> QuerySet[MisuseAlert]:
    """What no manager has looked at yet, the newest first."""
    return MisuseAlert.objects.for_firm(firm).filter(look=None).select_related("user")


@transaction.atomic
def _watch(firm: Firm, user: User) -> None:
    User.objects.select_for_update().get(pk=user.pk)
    last = MisuseAlert.objects.for_firm(firm).filter(user=user).order_by("-at").first()
    from_when = clock.now() - WITHIN
    from_when = max(from_when, last.at) if last else from_when
    failed = AuditEntry.objects.for_firm(firm).filter(thing=User._meta.label_lower, thing_id=str(user.pk))
    lately = failed.filter(kind__in=FAILED, reason__in=REASONS, at__gt=from_when).order_by("at")
    moments = list(lately.values_list("at", flat=True))
    if len(moments) >= TRIES:
        MisuseAlert.objects.create(firm=firm, user=user, tries=len(moments), since=moments[0])
        tries = change("tries", None, len(moments))
        note(AuditEntry.Kind.REPORTED, user, firm=firm, changes=[tries], reason="misuse")
