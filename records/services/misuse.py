"""Tell a firm's managers at once when somebody may be trying a person's password, passkey or second step."""

import logging
from datetime import timedelta

from django.conf import settings
from django.core.mail import send_mail
from django.db import transaction
from django.db.models import QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import override
from django_tasks import task

from records.models import AuditEntry, Firm, Membership, MisuseAlert, MisuseLookedAt, User
from records.permissions import demand
from records.services.audit import change, firms_of, note
from shared import clock

logger = logging.getLogger(__name__)
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


@task()
def tell_managers(alert_id: str, firm_id: str) -> None:
    """Send the managers a mail, by the worker, so that no sign-in waits for a mail server."""
    alerts = MisuseAlert.objects.for_firm(Firm(pk=firm_id)).select_related("user", "firm")
    alert = alerts.get(pk=alert_id)
    managers = Membership.objects.for_firm(alert.firm).filter(
        role=Membership.Role.MANAGER, active=True, accepted_at__isnull=False
    )
    with override(alert.firm.language):
        blanks = {"n": alert.tries, "name": alert.user.name}
        subject = _("Failed tries with the account of %(name)s") % blanks
        words = _("%(n)s tries with the password, passkey or second step of %(name)s failed.") % blanks
        todo = _("Ask whether it was they, and see the first page:")
    text = f"{words} {todo}\n\n{settings.BASE_ADDRESS.rstrip('/')}/\n"
    try:
        send_mail(subject.replace("\n", " "), text, None, [each.user.email for each in managers])
    except OSError:
        logger.exception("managers could not be told by mail")


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
        alert = MisuseAlert.objects.create(firm=firm, user=user, tries=len(moments), since=moments[0])
        transaction.on_commit(lambda: tell_managers.enqueue(str(alert.pk), str(firm.pk)))
        tries = change("tries", None, len(moments))
        note(AuditEntry.Kind.REPORTED, user, firm=firm, changes=[tries], reason="misuse")
