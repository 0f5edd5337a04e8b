"""What was found about a treatment, and what was known when it was."""

from typing import Any
from uuid import uuid4

from django.db import models
from django.utils.functional import cached_property
from django.utils.translation import gettext_lazy as _

from compliance.stored_form import plain
from records.models import SignedRecord, Treatment
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned

Json = dict[str, Any]


class StoredCheck(AppendOnly, FirmOwned):
    """One check of a treatment, `stored-check/1`; `digest` is over the canonical form of the whole.

    `body` holds that form compressed, `stored` is the check as plain data.
    """

    class Outcome(models.TextChoices):
        NOT_MET = "not_met", _("not met")
        CANT_TELL = "cant_tell", _("can't tell")
        MET = "met", _("met")
        NOT_APPLICABLE = "not_applicable", _("does not apply")

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
    outcome = models.CharField(_("outcome"), max_length=20, choices=Outcome.choices)
    body = models.BinaryField(_("check"))
    digest = models.CharField(_("digest"), max_length=80)
    at = models.DateTimeField(_("made at"), default=clock.now)

    class Meta:
        verbose_name = _("stored check")
        verbose_name_plural = _("stored checks")
        ordering = ["-at"]
        indexes = [
            models.Index(fields=["firm", "treatment", "at"], name="checks_of_a_treatment"),
            models.Index(fields=["firm", "at"], name="checks_by_time"),
        ]

    def __str__(self) -> str:
        return f"{self.treatment}, {self.on}: {self.outcome}"

    @cached_property
    def stored(self) -> Json:
        """The check as it was stored."""
        return plain(bytes(self.body))

    def in_the_open(self) -> Json:
        """What a firm that leaves takes along beside the compressed bytes."""
        return {"check": self.stored}


class CheckContext(FirmOwned):
    """What was known around a document when it was checked; apart from the check and erasable, since it may
    hold neighbours. The check keeps its digest."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    check_made = models.OneToOneField(
        StoredCheck, models.PROTECT, related_name="kept_context", verbose_name=_("stored check")
    )
    body = models.BinaryField(_("context"))

    class Meta:
        verbose_name = _("context of a check")
        verbose_name_plural = _("contexts of checks")

    def __str__(self) -> str:
        return str(self.check_made)

    @cached_property
    def plain(self) -> Json:
        """The context as plain data."""
        return plain(bytes(self.body))

    def in_the_open(self) -> Json:
        """What a firm that leaves takes along beside the compressed bytes."""
        return {"context": self.plain}
