"""The making of a bundle that answers a request: what goes in, how far it is, and the file that came of it."""

from datetime import timedelta
from typing import Any, ClassVar
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.utils.functional import cached_property
from django.utils.translation import gettext_lazy as _

from compliance.models.requests import RecordsRequest
from shared import clock
from shared.tenancy import FirmOwned
from shared.worker import Turn, turn_of


class Handing(FirmOwned):
    """One bundle for one request, made by the worker. What goes in was settled when it was asked for: the
    treatments, what is left out, how much of the log (`log_size`), the bundle that it follows (`since`).

    `run` names the worker's turn that may write, `task` is its id in the worker's queue; an older turn that is
    still at it stops. The file lies under
    FILES_DIR until it is dropped or its time is over; its digest and what went in stay.
    """

    class State(models.TextChoices):
        WAITING = "waiting", _("waiting for the worker")
        MAKING = "making", _("being made")
        READY = "ready", _("made")
        FAILED = "failed", _("not made")
        GONE = "gone", _("file dropped")

    SILENCE: ClassVar[timedelta] = timedelta(minutes=2)
    """After so long without a word of it a turn is held for broken off."""
    KEPT: ClassVar[timedelta] = timedelta(days=30)
    """So long the file stays; it can be made again."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    request = models.ForeignKey(
        RecordsRequest, models.PROTECT, related_name="handings", verbose_name=_("request for records")
    )
    since = models.ForeignKey(
        "self", models.PROTECT, null=True, related_name="+", verbose_name=_("bundle before")
    )
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("asked for at"), default=clock.now)
    to = models.CharField(_("handed to"), max_length=200)
    how = models.CharField(_("how"), max_length=200)
    language = models.CharField(_("language of the letter"), max_length=2, choices=settings.LANGUAGES)
    treatments: Any = models.JSONField(_("treatments"))
    withheld: Any = models.JSONField(_("left out"), default=list)
    sheets: Any = models.JSONField(_("record sheets"), default=list)
    photos = models.BooleanField(_("with photos"), default=False)
    findings = models.BooleanField(_("with findings"), default=False)

    state = models.CharField(_("state"), max_length=10, choices=State.choices, default=State.WAITING)
    run = models.UUIDField(default=uuid4, editable=False)
    task = models.CharField(max_length=64, blank=True, editable=False)
    noted_at = models.DateTimeField(default=clock.now)
    done = models.PositiveIntegerField(_("versions that are in"), default=0)
    of_all = models.PositiveIntegerField(_("versions"), default=0)
    log_size = models.PositiveBigIntegerField(_("entries of the log"), null=True)
    named_still: Any = models.JSONField(_("where what is left out is named all the same"), default=dict)
    ready_at = models.DateTimeField(_("made at"), null=True)
    size = models.PositiveBigIntegerField(_("bytes"), default=0)
    digest = models.CharField(_("digest of the file"), max_length=71, blank=True)

    class Meta:
        verbose_name = _("bundle for a request")
        verbose_name_plural = _("bundles for requests")
        ordering = ["-at"]
        indexes = [models.Index(fields=["firm", "state"], name="handings_by_state")]

    def __str__(self) -> str:
        return f"{self.to}, {self.at:%Y-%m-%d %H:%M}"

    @property
    def is_under_way(self) -> bool:
        return self.state in (self.State.WAITING, self.State.MAKING)

    @property
    def is_broken_off(self) -> bool:
        """Whether nothing has been heard of it: its worker died. One that waits behind other work of the worker
        is not."""
        if not self.is_under_way or self.turn.is_queued:
            return False
        heard = max(self.noted_at, self.turn.begun_at or self.noted_at)
        return clock.now() - heard > self.SILENCE

    @property
    def waits_long(self) -> bool:
        """Whether other work keeps the worker, or none is running: nobody can tell which."""
        return self.is_under_way and self.turn.is_queued and clock.now() - self.noted_at > self.SILENCE

    @cached_property
    def turn(self) -> Turn:
        """What the worker has of it. It is asked once for each row that is read."""
        return turn_of(self.task)
