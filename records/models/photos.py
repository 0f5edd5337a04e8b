"""Photos of a treatment: a row for each, whose bytes are a file of the firm's."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.treatments import Treatment
from shared import clock
from shared.tenancy import FirmOwned


class Photo(FirmOwned):
    """One photo, known by the digest of its bytes, which come in pieces: `came_in` says how many are here.

    It is whole and known to be a picture once `received_at` is set. Which step or follow-up it belongs to
    stands in the document that names its digest.
    """

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(Treatment, models.CASCADE, related_name="photos", verbose_name=_("treatment"))
    sha256 = models.CharField(_("digest"), max_length=64)
    media_type = models.CharField(_("media type"), max_length=40, blank=True)
    bytes = models.PositiveBigIntegerField(_("bytes"))
    came_in = models.PositiveBigIntegerField(default=0)
    last_piece_at = models.DateTimeField(default=clock.now)
    taken_at = models.DateTimeField(_("taken at"), null=True)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    received_at = models.DateTimeField(_("received at"), null=True)

    class Meta:
        verbose_name = _("photo")
        verbose_name_plural = _("photos")
        ordering = ["last_piece_at"]
        constraints = [
            models.UniqueConstraint(fields=["firm", "treatment", "sha256"], name="one_photo_of_a_digest")
        ]
        indexes = [models.Index(fields=["firm", "last_piece_at"], name="photo_last_piece")]

    def __str__(self) -> str:
        return self.sha256[:12]

    @property
    def is_whole(self) -> bool:
        return self.received_at is not None
