"""What is signed: rows that the database refuses to change."""

import json
from typing import Any, ClassVar
from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.document.section_lines import opened
from records.models.accounts import User
from records.models.keeping import ERASED_AFTER
from records.models.treatments import Treatment
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.orm.shrinking import Shrinking
from shared.tenancy import FirmOwned


class SigningKey(AppendOnly, FirmOwned):
    """The public half of a firm's Ed25519 key; the private half is a file in KEY_DIR named by `digest`."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    digest = models.CharField(_("digest"), max_length=80, unique=True)
    public = models.BinaryField(_("public key"))
    made_at = models.DateTimeField(_("made at"), default=clock.now)

    class Meta:
        verbose_name = _("signing key")
        verbose_name_plural = _("signing keys")
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return self.digest


class SignedRecord(AppendOnly, FirmOwned):
    """One signed version of a treatment's document.

    `record` is the canonical bytes of `signed-record/1`, of which `digest` is the digest; `section_lines` are
    the sections with their salts, byte for byte as the digests in it bind them (`document/section_lines.py`).
    Some of them go when the treatment is erased, and with them `document_digest`, which has no salt: it would
    tell a right guess.
    """

    class Kind(models.TextChoices):
        SIGNED = "signed", _("Signed")
        CORRECTED = "corrected", _("Correction")
        VOID = "void", _("Made void")

    holds = ("treatment",)
    keeps: ClassVar = {"treatment": ("firm", "number")}
    shrinks = Shrinking(
        "records.Erasure",
        by="treatment",
        lines=("section_lines",),
        emptied=("document_digest",),
        after=ERASED_AFTER,
    )

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(
        Treatment, models.PROTECT, related_name="signed_records", verbose_name=_("treatment")
    )
    version = models.PositiveIntegerField(_("version"))
    kind = models.CharField(_("kind"), max_length=10, choices=Kind.choices)
    record = models.BinaryField(_("record"))
    digest = models.CharField(_("digest"), max_length=80, unique=True)
    document_digest = models.CharField(_("digest of the document"), max_length=80)
    section_lines = models.BinaryField(_("sections"))
    replaces = models.OneToOneField(
        "self", models.PROTECT, null=True, related_name="replaced_by", verbose_name=_("replaces")
    )
    reason = models.TextField(_("reason"), blank=True)
    revision = models.PositiveIntegerField(_("revision of the draft"))
    key = models.ForeignKey(SigningKey, models.PROTECT, related_name="+", verbose_name=_("signing key"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    received_at = models.DateTimeField(_("received at"), default=clock.now)

    class Meta:
        verbose_name = _("signed record")
        verbose_name_plural = _("signed records")
        ordering = ["-version"]
        constraints = [
            models.UniqueConstraint(fields=["treatment", "version"], name="one_signed_record_of_a_version")
        ]
        indexes = [models.Index(fields=["firm", "received_at"], name="signed_record_by_time")]

    def __str__(self) -> str:
        return f"{self.treatment}, {self.version}"

    @property
    def signature(self) -> dict[str, Any]:
        """The signature as its bytes state it: `by`, `role`, `meaning`, `claimed_at`. Nothing where they were
        damaged, which the look at the log tells."""
        try:
            stated: dict[str, Any] = json.loads(bytes(self.record))["signatures"][0]
        except (ValueError, LookupError, TypeError):
            return {}
        return stated

    @property
    def sections(self) -> dict[str, Any]:
        """The sections that are there, by name."""
        return opened(bytes(self.section_lines)).sections

    @property
    def salts(self) -> dict[str, str]:
        """Their salts, by name."""
        return opened(bytes(self.section_lines)).salts


class SignedFollowUp(AppendOnly, FirmOwned):
    """A signed addition to a record: what happened later. `record` holds its canonical bytes."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    follows = models.ForeignKey(
        SignedRecord, models.PROTECT, related_name="follow_ups", verbose_name=_("follows")
    )
    kind = models.CharField(_("kind"), max_length=40)
    at = models.DateTimeField(_("at"))
    record = models.BinaryField(_("record"))
    digest = models.CharField(_("digest"), max_length=80, unique=True)
    follow_up = models.JSONField(_("what it says"))
    key = models.ForeignKey(SigningKey, models.PROTECT, related_name="+", verbose_name=_("signing key"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    received_at = models.DateTimeField(_("received at"), default=clock.now)

    class Meta:
        verbose_name = _("follow-up")
        verbose_name_plural = _("follow-ups")
        ordering = ["-at"]
        indexes = [models.Index(fields=["firm", "received_at"], name="follow_ups_by_arrival")]

    def __str__(self) -> str:
        return f"{self.kind}, {self.at:%Y-%m-%d}"
