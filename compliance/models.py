"""What was found about a treatment, and what a firm demands of itself."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models import SignedRecord, Treatment
from shared import clock
from shared.history import firm_history
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class StoredCheck(AppendOnly, FirmOwned):
    """One check of a treatment, as `stored-check/1`, with the digests of what it judged."""

    class Occasion(models.TextChoices):
        SIGNING = "signing", _("At signing")
        FOLLOW_UP = "follow-up", _("After a follow-up")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(
        Treatment, models.PROTECT, related_name="checks", verbose_name=_("treatment")
    )
    signed_record = models.ForeignKey(
        SignedRecord, models.PROTECT, related_name="checks", verbose_name=_("signed record")
    )
    occasion = models.CharField(_("occasion"), max_length=10, choices=Occasion.choices)
    on = models.DateField(_("on"))
    outcome = models.CharField(_("outcome"), max_length=20)
    check_json = models.JSONField(_("check"))
    digest = models.CharField(_("digest"), max_length=80)
    at = models.DateTimeField(_("made at"), default=clock.now)

    class Meta:
        verbose_name = _("stored check")
        verbose_name_plural = _("stored checks")
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.treatment}, {self.on}: {self.outcome}"


class FirmPolicy(FirmOwned):
    """Limits that a firm sets for itself, in force in `[valid_from, until)`; shown apart from law."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    title = models.CharField(_("title"), max_length=200)
    policy = models.JSONField(_("what it demands"), default=dict)
    in_force_from = models.DateField(_("in force from"))
    until = models.DateField(
        _("until"), null=True, blank=True, help_text=_("The first day on which it no longer holds.")
    )
    history = firm_history()

    class Meta:
        verbose_name = _("firm policy")
        verbose_name_plural = _("firm policies")
        ordering = ["-in_force_from"]

    def __str__(self) -> str:
        return self.title
