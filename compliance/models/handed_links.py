"""A link by which whoever asked fetches a bundle without an account, with a code that works once."""

from datetime import datetime, timedelta
from typing import ClassVar
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from compliance.models.handings import Handing
from shared import clock
from shared.tenancy import FirmOwned


class HandedLink(FirmOwned):
    """Of the address and of the code only hashes are kept: both are shown once, to who made the link.

    `tries` are codes that were wrong since the last right one.
    """

    MOST_TRIES: ClassVar[int] = 5
    """A code has eight digits: so many guesses find one of 20 million links."""
    GRACE: ClassVar[timedelta] = timedelta(minutes=10)
    """So long a used code works again, for a download that broke off or a second press."""

    stays_here: ClassVar[str] = "address and code are of this service, and only their hashes are kept"

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    handing = models.ForeignKey(
        Handing, models.PROTECT, related_name="links", verbose_name=_("bundle for a request")
    )
    address_digest = models.CharField(max_length=64, unique=True, editable=False)
    code_digest = models.CharField(max_length=128, editable=False)
    made_at = models.DateTimeField(_("made at"), default=clock.now)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", verbose_name=_("made by")
    )
    until = models.DateTimeField(_("works until"))
    tries = models.PositiveSmallIntegerField(_("wrong codes"), default=0)
    used_at = models.DateTimeField(_("fetched at"), null=True)
    ended_at = models.DateTimeField(_("ended at"), null=True)

    class Meta:
        verbose_name = _("link to a bundle")
        verbose_name_plural = _("links to bundles")
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"{self.handing}, {self.made_at:%Y-%m-%d %H:%M}"

    @property
    def is_locked(self) -> bool:
        """Whether somebody has guessed too often."""
        return self.tries >= self.MOST_TRIES

    @property
    def is_used(self) -> bool:
        return self.used_at is not None and clock.now() > self.used_at + self.GRACE

    @property
    def works_until(self) -> datetime:
        """After a use only a little longer."""
        return min(self.until, self.used_at + self.GRACE) if self.used_at else self.until

    @property
    def is_over(self) -> bool:
        """Whether nothing can be fetched by it any more."""
        ended = self.ended_at is not None or clock.now() > self.until
        return ended or self.is_locked or self.is_used or self.handing.state != Handing.State.READY
