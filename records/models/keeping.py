"""How long a record is kept: what holds it on, and that what it said of people was erased."""

from datetime import datetime
from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.treatments import Treatment
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned

ERASED_AFTER = ("on", "kept_until")
"""Of an erasure's days the first is the later one; the database lets nothing go by another."""


class LegalHold(AppendOnly, FirmOwned):
    """While it is not lifted, nothing of the treatment's records is erased."""

    holds = ("treatment",)

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(
        Treatment, models.PROTECT, related_name="legal_holds", verbose_name=_("treatment")
    )
    reason = models.TextField(_("reason"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("legal hold")
        verbose_name_plural = _("legal holds")
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.treatment}, {self.at:%Y-%m-%d}"


class HoldLifted(AppendOnly, FirmOwned):
    """The hold is over."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    hold = models.OneToOneField(LegalHold, models.PROTECT, related_name="lifted", verbose_name=_("legal hold"))
    reason = models.TextField(_("reason"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("end of a legal hold")
        verbose_name_plural = _("ends of legal holds")

    def __str__(self) -> str:
        return f"{self.hold}, {self.at:%Y-%m-%d}"


class Erasure(AppendOnly, FirmOwned):
    """The `sections` of all versions that say something of people were erased, after the term that the rules
    of `under` set. `by` is empty where the machine's owner had it done.

    `record` holds the canonical bytes of the signed statement (`erasure/1`), the log's entry; empty of an
    erasure from before erasures were signed.
    """

    holds = ("treatment",)

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.OneToOneField(
        Treatment, models.PROTECT, related_name="erasure", verbose_name=_("treatment")
    )
    sections = models.JSONField(_("sections"))
    kept_until = models.DateField(_("kept until"))
    under = models.JSONField(_("under"))
    on = models.DateField(_("on"))
    record = models.BinaryField(_("statement"), null=True)
    digest = models.CharField(_("digest"), max_length=80, unique=True, null=True)
    by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("erasure")
        verbose_name_plural = _("erasures")
        ordering = ["-at"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(on__gt=models.F("kept_until")), name="nothing_is_erased_within_its_term"
            )
        ]

    def __str__(self) -> str:
        return f"{self.treatment}, {self.on}"

    @property
    def received_at(self) -> datetime:
        """As of all that is entered in the log."""
        return self.at
