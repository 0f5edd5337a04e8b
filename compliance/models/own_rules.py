"""The rules that a firm writes for itself: every version, which was in use since when, and what-if runs."""

from datetime import timedelta
from typing import Any
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.utils.functional import cached_property
from django.utils.translation import gettext_lazy as _

from compliance.own_rules import OwnRule, own_pack
from compliance.rulebook.pack import Pack
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class OwnRules(AppendOnly, FirmOwned):
    """One version of all rules of a firm: what was changed (`change`), by whom and why."""

    class Change(models.TextChoices):
        ADDED = "added", _("Added")
        CHANGED = "changed", _("Changed")
        REMOVED = "removed", _("Taken out")
        CARRIED = "carried", _("Carried over")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    version = models.PositiveIntegerField(_("version"))
    rules = models.JSONField(_("rules"))
    change = models.CharField(_("change"), max_length=10, choices=Change.choices)
    rule = models.CharField(_("rule"), max_length=200, blank=True, help_text=_("Its title."))
    why = models.CharField(_("why"), max_length=500, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+", verbose_name=_("by")
    )
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("version of the firm's rules")
        verbose_name_plural = _("versions of the firm's rules")
        ordering = ["-version"]
        constraints = [models.UniqueConstraint(fields=["firm", "version"], name="one_version_of_own_rules")]

    def __str__(self) -> str:
        return f"{self.version}"

    @cached_property
    def own(self) -> list[OwnRule]:
        """The rules as they were typed."""
        return [OwnRule.from_json(data) for data in self.rules]

    @cached_property
    def pack(self) -> Pack | None:
        """The rules as a pack; None without any."""
        return own_pack(self.own, str(self.version), self.firm.name, self.at.date())


class OwnRulesInUse(AppendOnly, FirmOwned):
    """The version that is in use from `since` until the next such row."""

    version = models.ForeignKey(OwnRules, models.PROTECT, related_name="uses", verbose_name=_("version"))
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+", verbose_name=_("by")
    )
    since = models.DateTimeField(_("since"), default=clock.now)

    class Meta:
        verbose_name = _("firm's rules in use")
        verbose_name_plural = _("firm's rules in use")
        ordering = ["-since", "-pk"]

    def __str__(self) -> str:
        return f"{self.version}, {self.since:%Y-%m-%d}"


class WhatIf(FirmOwned):
    """A run that asks which records would have come out differently with a version; `found` are those.

    `noted_at` is its last sign of life.
    """

    SILENCE = timedelta(minutes=10)
    """A run that has said nothing for so long is taken to be broken off: a step takes seconds."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    version = models.ForeignKey(OwnRules, models.PROTECT, related_name="what_ifs", verbose_name=_("version"))
    since = models.DateField(_("treatments from"))
    total = models.PositiveIntegerField(_("records"))
    done = models.PositiveIntegerField(_("done"), default=0)
    found = models.JSONField(_("found"), default=list)
    started_at = models.DateTimeField(_("started at"), default=clock.now)
    noted_at = models.DateTimeField(_("noted at"), default=clock.now)
    finished_at = models.DateTimeField(_("finished at"), null=True)

    class Meta:
        verbose_name = _("what-if run")
        verbose_name_plural = _("what-if runs")
        ordering = ["-started_at"]

    def __str__(self) -> str:
        return f"{self.version}, {self.started_at:%Y-%m-%d %H:%M}"

    def note(self, found: list[dict[str, Any]], done: int) -> None:
        """How far it has come."""
        self.found, self.done, self.noted_at = found, done, clock.now()
        self.save(update_fields=["found", "done", "noted_at"])

    @property
    def is_broken_off(self) -> bool:
        """Whether it came to no end, and nothing has been heard of it: its worker died, or none is running."""
        return self.finished_at is None and clock.now() - self.noted_at > self.SILENCE
