"""Who did what: every create, change, view of personal data, print, export, sending, sign-in and refusal."""

import json
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.keeping import ERASED_AFTER
from records.models.treatments import Treatment
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.orm.shrinking import Shrinking
from shared.tenancy import FirmOwned


class AsWritten(json.JSONEncoder):
    """JSON with letters as they are, so that the database can search in it."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**{**options, "ensure_ascii": False})


class AuditEntry(AppendOnly, FirmOwned):
    """One thing that was done, kept in the transaction that did it. There is no switch to stop this.

    `by` is null for nobody signed in (the machine itself, or a stranger); `by_name` is the name at that time.
    `thing` is the kind of what it was done to, a model's label or "page"; its id and name are text, so that
    they outlast the row. `changes` are lists of `{member, old, new}`, by the section or column that the member
    is of. `zone` is the firm's time zone at that time, `page` the pattern of the address that was asked, with
    what was searched for. `firm` is null only for what belongs to none: sign-ins and refusals of who is in no
    firm, and looks of the machine's owner.

    Old and new values are the firm's own data and are kept. When a treatment's records are erased, the values
    of the sections that say something of people go out of its entries, too; that is what `treatment` is for.
    The erasure is an entry itself; who did what to which id, when and why stays.
    """

    shrinks = Shrinking("records.Erasure", by="treatment", members=("changes",), after=ERASED_AFTER)

    class Kind(models.TextChoices):
        CREATED = "created", _("Made")
        CHANGED = "changed", _("Changed values")
        REMOVED = "removed", _("Removed")
        SIGNED = "signed", _("Signed")
        VOIDED = "voided", _("Made void")
        FOLLOWED_UP = "followed_up", _("Signed a follow-up")
        SEALED = "sealed", _("Sent what was signed on a device")
        LOOKED_AT = "looked_at", _("Ticked off what was signed on a device")
        VIEWED = "viewed", _("Seen")
        PRINTED = "printed", _("Printed")
        EXPORTED = "exported", _("Taken out as a file")
        ERASED = "erased", _("Erased what it said of people")
        SENT = "sent", _("Sent")
        SIGNED_IN = "signed_in", _("Signed in")
        SIGN_IN_FAILED = "sign_in_failed", _("Failed to sign in")
        SIGNED_OUT = "signed_out", _("Signed out")
        ACCESS = "access", _("Password or second step changed")
        REFUSED = "refused", _("Refused")
        REPORTED = "reported", _("Reported to the managers")
        DECLARED = "declared", _("Declared that the signature binds")

    firm = models.ForeignKey(
        "records.Firm", models.PROTECT, null=True, editable=False, verbose_name=_("firm"), related_name="+"
    )
    at = models.DateTimeField(_("when"), default=clock.now)
    zone = models.CharField(_("time zone"), max_length=60, default="UTC")
    by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("who"))
    by_name = models.CharField(_("who, by name"), max_length=200, blank=True)
    kind = models.CharField(_("what was done"), max_length=20, choices=Kind.choices)
    treatment = models.ForeignKey(
        Treatment, models.PROTECT, null=True, related_name="audit_entries", verbose_name=_("treatment")
    )
    thing = models.CharField(_("kind of thing"), max_length=60)
    thing_id = models.CharField(_("id of the thing"), max_length=100, blank=True)
    thing_name = models.CharField(_("name of the thing"), max_length=300, blank=True)
    changes = models.JSONField(_("old and new"), default=dict, encoder=AsWritten)
    reason = models.TextField(_("reason"), blank=True)
    page = models.CharField(_("page"), max_length=600, blank=True)

    class Meta:
        verbose_name = _("entry of who did what")
        verbose_name_plural = _("who did what")
        ordering = ["-at", "-pk"]
        indexes = [
            models.Index(fields=["firm", "-at", "-id"], name="audit_newest"),
            models.Index(fields=["firm", "thing_id", "-at"], name="audit_of_a_thing"),
        ]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M}, {self.by_name}, {self.kind}"

    @property
    def local(self) -> Any:
        """The moment by the firm's clock."""
        return self.at.astimezone(ZoneInfo(self.zone))
