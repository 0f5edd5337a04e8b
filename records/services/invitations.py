"""Join a firm: a manager invites an address, and whoever reads its mail accepts.

An invitation is a link that holds once and for three days. It goes to the address by mail, and is shown to
the manager to hand over. Without the link nobody becomes a member: not who made an account under somebody
else's address, nor an account's owner who was never asked.
"""

import logging
from uuid import UUID

from django.conf import settings
from django.contrib.auth.tokens import PasswordResetTokenGenerator
from django.core.mail import send_mail
from django.db import transaction
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import override

from records.models import AuditEntry, Membership, User
from records.services.audit import change, note
from shared import clock

logger = logging.getLogger(__name__)


class NotInvitedError(ValueError):
    """The link is not that of an open invitation: used, withdrawn, replaced by a later one, or too old."""


class _InvitationTokens(PasswordResetTokenGenerator):
    """Tokens that end with PASSWORD_RESET_TIMEOUT, with acceptance, and with the next invitation."""

    key_salt = "records.services.invitations"

    def _make_hash_value(self, membership: Membership, timestamp: int) -> str:  # type: ignore[override]
        parts = (membership.pk, membership.user.email, membership.invited_at, membership.accepted_at)
        return "|".join(str(part) for part in (*parts, membership.active, timestamp))


TOKENS = _InvitationTokens()


def account_for(email: str, name: str) -> User:
    """The account of this address as it is, else a new one that nobody can sign in to before it is begun."""
    email = email.strip().lower()
    return User.objects.filter(email=email).first() or User.objects.create_user(email, name=name)


def link_of(membership: Membership) -> str:
    """The address of the invitation; who has it may accept."""
    path = reverse("invitation", kwargs={"uuid": membership.pk, "token": TOKENS.make_token(membership)})
    return settings.BASE_ADDRESS.rstrip("/") + path


@transaction.atomic
def invite(membership: Membership, by: User | None = None) -> str:
    """Invite anew, send the link by mail once all is saved, and return it. Earlier links end."""
    membership.invited_at = clock.now()
    membership.save()
    note(AuditEntry.Kind.SENT, membership, firm=membership.firm, by=by, reason="invitation")
    link = link_of(membership)
    transaction.on_commit(lambda: _send(membership, link))
    return link


def _send(membership: Membership, link: str) -> None:
    with override(membership.firm.language):
        firm = {"firm": membership.firm.name}
        subject = _("%(firm)s invites you to its treatment log") % firm
        words = _(
            "%(firm)s would like you to work in its treatment log. Open this in three days to accept:"
        )
        end = _("If you expect no such invitation, do nothing: without you it does not hold.")
        text = f"{words % firm}\n\n{link}\n\n{end}\n"
    try:
        send_mail(subject.replace("\n", " "), text, None, [membership.user.email])
    except OSError:
        logger.exception("an invitation could not be sent by mail")


def invited(uuid: UUID, token: str) -> Membership:
    """The open invitation of this link. Raises NotInvitedError."""
    rows = Membership.across_firms.select_related("firm", "user")
    membership = rows.filter(pk=uuid, active=True, accepted_at=None).first()
    if membership is None or not TOKENS.check_token(membership, token):  # type: ignore[arg-type]
        raise NotInvitedError
    return membership


@transaction.atomic
def accept(uuid: UUID, token: str, by: User) -> Membership:
    """The owner of the account accepts. Raises NotInvitedError, also for anybody else."""
    membership = _locked(uuid, token)
    if membership.user_id != by.pk:
        raise NotInvitedError
    return _accepted(membership)


@transaction.atomic
def begin_account(uuid: UUID, token: str, password: str) -> Membership:
    """Set a new account's password and accept. Raises NotInvitedError, also where there is a password."""
    membership = _locked(uuid, token)
    user = User.objects.select_for_update().get(pk=membership.user_id)
    if user.has_usable_password():
        raise NotInvitedError
    user.set_password(password)
    user.save()
    accepted = _accepted(membership)
    note(AuditEntry.Kind.ACCESS, user, firm=membership.firm, by=user, reason="password")
    return accepted


def _locked(uuid: UUID, token: str) -> Membership:
    Membership.across_firms.select_for_update(of=("self",)).filter(pk=uuid).first()
    return invited(uuid, token)


def _accepted(membership: Membership) -> Membership:
    membership.accepted_at = clock.now()
    membership.save()
    accepted = [change("accepted_at", None, membership.accepted_at.isoformat(timespec="seconds"))]
    note(AuditEntry.Kind.CHANGED, membership, firm=membership.firm, by=membership.user, changes=accepted)
    return membership
