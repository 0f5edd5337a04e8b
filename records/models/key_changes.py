"""How a firm's signing key was followed by another."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.signed import SigningKey
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class KeyChange(AppendOnly, FirmOwned):
    """A key took the place of another.

    `record` holds the canonical bytes of the statement (`key-change/1`) that both have signed; where the old
    one was `lost`, the new one alone. `by` is empty for the machine's owner.
    """

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    key = models.OneToOneField(
        SigningKey, models.PROTECT, related_name="introduced", verbose_name=_("signing key")
    )
    replaces = models.OneToOneField(
        SigningKey, models.PROTECT, related_name="replaced", verbose_name=_("replaces")
    )
    lost = models.BooleanField(_("the old key was lost"))
    record = models.BinaryField(_("statement"))
    digest = models.CharField(_("digest"), max_length=80, unique=True)
    by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("by"))
    received_at = models.DateTimeField(_("received at"), default=clock.now)

    class Meta:
        verbose_name = _("change of key")
        verbose_name_plural = _("changes of key")
        ordering = ["-received_at"]

    def __str__(self) -> str:
        return f"{self.replaces} → {self.key}"
