"""Where anyone may see what proves a signed record, and nothing of what it says."""

import secrets

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.signed import SignedRecord
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


def new_token() -> str:
    """128 random bits."""
    return secrets.token_hex(16)


class ProofAddress(AppendOnly, FirmOwned):
    """The unguessable last part of the address of a signed record's proof page, which its QR code holds."""

    holds = ("record",)

    token = models.CharField(_("token"), max_length=32, primary_key=True, default=new_token, editable=False)
    record = models.OneToOneField(
        SignedRecord, models.PROTECT, related_name="proof_address", verbose_name=_("signed record")
    )

    class Meta:
        verbose_name = _("proof address")
        verbose_name_plural = _("proof addresses")

    def __str__(self) -> str:
        return str(self.record)
