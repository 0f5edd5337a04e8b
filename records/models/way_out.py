"""Files with everything of a firm, made for its managers."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import ClassVar
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from shared import clock
from shared.tenancy import FirmOwned


class WayOut(FirmOwned):
    """One such file, which is kept for some days. How far it is stands in a file beside it: who reads a firm as
    it stands at one moment can't write rows meanwhile."""

    class State(models.TextChoices):
        MAKING = "making", _("being made")
        MADE = "made", _("made")
        FAILED = "failed", _("could not be made")

    KEPT: ClassVar[timedelta] = timedelta(days=7)
    SILENCE: ClassVar[timedelta] = timedelta(minutes=10)
    """After so long without a word of it, it is held for broken off."""
    stays_here: ClassVar[str] = "they tell of files of this machine"

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)
    state = models.CharField(_("state"), max_length=10, choices=State.choices, default=State.MAKING)
    made_at = models.DateTimeField(_("made at"), null=True)
    size = models.PositiveBigIntegerField(_("bytes"), default=0)
    digest = models.CharField(_("digest of the file"), max_length=71, blank=True)
    entries = models.PositiveBigIntegerField(_("entries of the log"), default=0)
    root = models.CharField(_("root of the log"), max_length=80, blank=True)
    damaged = models.JSONField(_("missing or damaged"), default=list)

    class Meta:
        verbose_name = _("file with everything of the firm")
        verbose_name_plural = _("files with everything of the firm")
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M}"

    @property
    def path(self) -> Path:
        """In a hidden folder: it is made anew, so no backup and no other such file takes it along."""
        return Path(settings.FILES_DIR) / str(self.firm_id) / ".way-out" / f"{self.pk}.zip"

    @property
    def far_path(self) -> Path:
        return self.path.with_suffix(".far")

    @property
    def far(self) -> tuple[int, int]:
        """So many of so many rows."""
        try:
            done, of = self.far_path.read_text().split()
            return int(done), int(of)
        except (OSError, ValueError):
            return 0, 0

    @property
    def is_under_way(self) -> bool:
        return self.state == self.State.MAKING

    @property
    def heard_of_at(self) -> datetime:
        try:
            return max(self.at, datetime.fromtimestamp(self.far_path.stat().st_mtime, UTC))
        except OSError:
            return self.at

    @property
    def is_broken_off(self) -> bool:
        return self.is_under_way and clock.now() - self.heard_of_at > self.SILENCE

    @property
    def kept_until(self) -> datetime | None:
        return self.made_at and self.made_at + self.KEPT

    @property
    def is_there(self) -> bool:
        """Whether it can be taken: no longer than it is kept, whenever somebody sweeps."""
        return bool(self.kept_until and clock.now() < self.kept_until and self.path.exists())
