"""Hooks: addresses of other programs that are told when something happens, and each time that they were."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from shared import clock
from shared.tenancy import FirmOwned


class Hook(FirmOwned):
    """An address that is told of these events. Its secret is made of the service's own, and kept nowhere;
    `renewals` counts how often another was made in place of the one before."""

    stays_here = "its secret is of this service"

    class Event(models.TextChoices):
        SIGNED = "record.signed", _("A record is signed")
        CORRECTED = "record.corrected", _("A record is corrected or made void")
        FINDING = "record.finding", _("A check leaves a rule open")
        NOTICE = "notice.changed", _("Something became of a notice")
        REQUEST = "request.changed", _("A request for records comes in, is answered or closed")
        TRIAL = "trial", _("A trial")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    name = models.CharField(_("name of the program"), max_length=80)
    address = models.URLField(_("address"), max_length=500)
    events = models.JSONField(_("events"), default=list)
    renewals = models.PositiveIntegerField(_("renewals of the secret"), default=0)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    made_at = models.DateTimeField(_("made at"), default=clock.now)
    ended_at = models.DateTimeField(_("ended at"), null=True)
    ended_why = models.CharField(_("why it ended"), max_length=200, blank=True)

    class Meta:
        verbose_name = _("hook")
        verbose_name_plural = _("hooks")
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return self.name


class HookCall(FirmOwned):
    """One event as one hook is told it. `body` names rows by their ids and nobody by name."""

    stays_here = "it was told to a program that this service knows"

    class State(models.TextChoices):
        WAITING = "waiting", _("waiting")
        TOLD = "told", _("told")
        GIVEN_UP = "given-up", _("given up")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    hook = models.ForeignKey(Hook, models.CASCADE, related_name="calls", verbose_name=_("hook"))
    event = models.CharField(_("event"), max_length=30, choices=Hook.Event.choices)
    body = models.JSONField(_("what is told"))
    made_at = models.DateTimeField(_("made at"), default=clock.now)
    state = models.CharField(_("state"), max_length=10, choices=State.choices, default=State.WAITING)
    tries = models.PositiveIntegerField(_("tries"), default=0)
    next_try = models.DateTimeField(_("next try"), default=clock.now)
    settled_at = models.DateTimeField(_("settled at"), null=True)
    answer = models.CharField(_("answer"), max_length=200, blank=True)

    class Meta:
        verbose_name = _("call of a hook")
        verbose_name_plural = _("calls of hooks")
        ordering = ["-made_at", "-pk"]
        indexes = [
            models.Index(fields=["firm", "state", "next_try"], name="hook_calls_due"),
            models.Index(fields=["hook", "-made_at"], name="calls_of_a_hook"),
        ]

    def __str__(self) -> str:
        return f"{self.hook}, {self.made_at:%Y-%m-%d %H:%M}"
