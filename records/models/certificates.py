"""The certificates with which a firm's papers are signed."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class PaperCertificate(AppendOnly, FirmOwned):
    """A certificate that has signed papers of the firm, or is about to; its private half is never a row.

    Of one that was made here the private half is a file in KEY_DIR named by `fingerprint`, which is the
    SHA-256 of `certificate` (DER).
    """

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    fingerprint = models.CharField(_("fingerprint"), max_length=80)
    certificate = models.BinaryField(_("certificate"))
    made_at = models.DateTimeField(_("made at"), default=clock.now)

    class Meta:
        verbose_name = _("certificate for papers")
        verbose_name_plural = _("certificates for papers")
        ordering = ["-made_at"]
        constraints = [
            models.UniqueConstraint(fields=["firm", "fingerprint"], name="one_certificate_of_a_fingerprint")
        ]

    def __str__(self) -> str:
        return self.fingerprint
