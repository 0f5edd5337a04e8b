"""Devices that a person signs with where there is no signal, and what was sealed on them."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.keeping import ERASED_AFTER
from records.models.signed import SignedRecord
from records.models.treatments import Treatment
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.orm.shrinking import Shrinking
from shared.tenancy import FirmOwned


class DeviceKey(AppendOnly, FirmOwned):
    """The public half of a person's ECDSA P-256 key on one device; the private half never leaves the device,
    where a PIN opens it. `public` is its SubjectPublicKeyInfo (RFC 5480, DER)."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    by = models.ForeignKey(User, models.PROTECT, related_name="device_keys", verbose_name=_("whose"))
    device = models.CharField(_("device"), max_length=80)
    public = models.BinaryField(_("public key"))
    digest = models.CharField(_("digest"), max_length=80, unique=True)
    made_at = models.DateTimeField(_("registered at"), default=clock.now)

    class Meta:
        verbose_name = _("device key")
        verbose_name_plural = _("device keys")
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return self.device


class KeyRevocation(AppendOnly, FirmOwned):
    """From `at` on, nothing that the key seals holds."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    key = models.OneToOneField(
        DeviceKey, models.PROTECT, related_name="revocation", verbose_name=_("device key")
    )
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("revocation of a device key")
        verbose_name_plural = _("revocations of device keys")

    def __str__(self) -> str:
        return f"{self.key}, {self.at:%Y-%m-%d}"


class Seal(AppendOnly, FirmOwned):
    """A document as it was sealed on a device: its canonical bytes, and a signature over them.

    `signed_record` is what it was signed as; without one `why_not` says in both languages why it was not,
    with the `path` of a member that differed.
    `statement` is what the signature is over (`seal/1`, canonical; empty of seals from before it was kept).
    `sent_at` is what the device's clock said when it was sent, `received_at` what ours said. `proof` is that of
    the sheet which it was made from. `asks` is true of one that a manager should look at.
    """

    holds = ("treatment",)
    shrinks = Shrinking(
        "records.Erasure", by="treatment", emptied=("document", "statement"), after=ERASED_AFTER
    )

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(Treatment, models.PROTECT, related_name="seals", verbose_name=_("treatment"))
    key = models.ForeignKey(DeviceKey, models.PROTECT, related_name="seals", verbose_name=_("device key"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    document = models.BinaryField(_("document"))
    digest = models.CharField(_("digest"), max_length=80)
    value = models.CharField(_("signature"), max_length=120)
    statement = models.TextField(_("what the signature is over"), blank=True, default="")
    answers = models.JSONField(_("answers"), default=list)
    claimed_at = models.DateTimeField(_("claimed at"))
    device_at = models.DateTimeField(_("by the device's clock"))
    sent_at = models.DateTimeField(_("sent, by the device's clock"))
    received_at = models.DateTimeField(_("received at"), default=clock.now)
    signed_record = models.OneToOneField(
        SignedRecord, models.PROTECT, null=True, related_name="seal", verbose_name=_("signed record")
    )
    why_not = models.JSONField(_("why it was not signed"), default=list)
    marks = models.JSONField(_("what to look at"), default=list)
    proof = models.TextField(_("proof of the sheet"), blank=True, default="")
    asks = models.BooleanField(_("should be looked at"))

    class Meta:
        verbose_name = _("seal")
        verbose_name_plural = _("seals")
        ordering = ["-received_at"]
        constraints = [
            models.UniqueConstraint(fields=["key", "treatment", "digest"], name="one_seal_of_a_document")
        ]
        indexes = [models.Index(fields=["firm"], condition=models.Q(asks=True), name="seal_asks")]

    def __str__(self) -> str:
        return f"{self.treatment}, {self.received_at:%Y-%m-%d}"

    @property
    def fitted_later(self) -> "LaterFit | None":
        return getattr(self, "later_fit", None)

    @property
    def record(self) -> SignedRecord | None:
        """What it was signed as, at once or later."""
        return self.signed_record or (self.fitted_later and self.fitted_later.signed_record)

    @property
    def all_marks(self) -> list[dict[str, str]]:
        return [*self.marks, *(self.fitted_later.marks if self.fitted_later else [])]

    @property
    def asks_still(self) -> bool:
        """Whether it is marked or waits with an open draft, and nobody has looked at it as it now stands."""
        waits = self.record is None and self.treatment.state == Treatment.State.DRAFT
        stands_since = self.fitted_later.at if self.fitted_later else self.received_at
        looked_at = any(look.at >= stands_since for look in self.looks.all())
        return bool(self.all_marks or waits) and not looked_at


class LaterFit(AppendOnly, FirmOwned):
    """A seal that was not taken at first was what the draft had become, and the draft was signed with it."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    seal = models.OneToOneField(Seal, models.PROTECT, related_name="later_fit", verbose_name=_("seal"))
    signed_record = models.OneToOneField(
        SignedRecord, models.PROTECT, related_name="later_fit", verbose_name=_("signed record")
    )
    marks = models.JSONField(_("what to look at"), default=list)
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("later fit of a seal")
        verbose_name_plural = _("later fits of seals")

    def __str__(self) -> str:
        return f"{self.seal}, {self.at:%Y-%m-%d}"


class LookedAt(AppendOnly, FirmOwned):
    """A manager has looked at a seal that asked for it, as it stood at that time."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    seal = models.ForeignKey(Seal, models.PROTECT, related_name="looks", verbose_name=_("seal"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("look at a seal")
        verbose_name_plural = _("looks at seals")
        ordering = ["at"]

    def __str__(self) -> str:
        return f"{self.seal}, {self.by}"
