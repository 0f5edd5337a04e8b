"""Every version of a rule pack that was ever used here, whole, and which were in use since when."""

import json
from typing import Any, ClassVar
from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from compliance.pack_archive import Kept
from compliance.stored_form import squeezed, unsqueezed
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class AnyPackVersion(AppendOnly):
    """One version of a pack. `content` is the canonical form, compressed, that `digest` is over."""

    pack = models.CharField(_("pack"), max_length=100)
    version = models.CharField(_("version"), max_length=50, blank=True)
    layer = models.CharField(_("layer"), max_length=10)
    content = models.BinaryField(_("content"))
    kept_at = models.DateTimeField(_("kept at"), default=clock.now)

    class Meta:
        abstract = True

    def __str__(self) -> str:
        return f"{self.pack} {self.version}".strip()

    @classmethod
    def of(cls, kept: Kept) -> "AnyPackVersion":
        """The row, not yet saved, that holds a pack."""
        return cls(
            digest=kept.digest,
            pack=kept.pack,
            version=kept.version,
            layer=kept.layer,
            content=squeezed(kept.content),
        )

    def as_kept(self) -> Kept:
        """The pack as the archive reads it."""
        return Kept(self.pack, self.version, self.digest, self.layer, unsqueezed(bytes(self.content)))

    def in_the_open(self) -> dict[str, Any]:
        """What a firm that leaves takes along beside the compressed bytes."""
        return {"pack": self.pack, "version": self.version, "content": json.loads(self.as_kept().content)}


class PackVersion(AnyPackVersion):
    """A version of a law's pack; the same for every firm."""

    of_every_firm: ClassVar = ("digest",)

    digest = models.CharField(_("digest"), max_length=80, primary_key=True)

    class Meta:
        verbose_name = _("version of a rule pack")
        verbose_name_plural = _("versions of rule packs")
        ordering = ["pack", "kept_at"]


class FirmPackVersion(AnyPackVersion, FirmOwned):
    """A state of a firm's own policy by which a record was checked."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    digest = models.CharField(_("digest"), max_length=80)

    class Meta:
        verbose_name = _("state of the firm's policy")
        verbose_name_plural = _("states of the firm's policy")
        ordering = ["kept_at"]
        constraints = [
            models.UniqueConstraint(fields=["firm", "digest"], name="one_state_of_a_firms_policy_once")
        ]


class PacksInUse(AppendOnly):
    """The packs of the laws in use from `since` until the next such row, by digest, from wide to narrow."""

    of_every_firm: ClassVar = ("since", "digests")

    since = models.DateTimeField(_("since"), default=clock.now)
    digests = models.JSONField(_("digests"))

    class Meta:
        verbose_name = _("packs in use")
        verbose_name_plural = _("packs in use")
        ordering = ["since", "pk"]

    def __str__(self) -> str:
        return f"{self.since:%Y-%m-%d}: {len(self.digests)}"
