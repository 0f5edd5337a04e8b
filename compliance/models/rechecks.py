"""A run over a firm's register that checks its records again, and what came of each."""

from typing import Any
from uuid import uuid4

from django.db import models
from django.utils.functional import cached_property
from django.utils.translation import gettext_lazy as _

from compliance.models.checks import StoredCheck
from compliance.stored_form import plain, thickened
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned

Json = dict[str, Any]


class Recheck(FirmOwned):
    """One run. It takes the treatments that were checked when it started, in the order of their keys, and has
    come as far as `reached`. `laws`: the digests of the packs it goes by; None: by those of each check."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    packs_of = models.CharField(
        _("rule packs of"), max_length=10, help_text=_("A day (2026-01-31), 'today' or 'stored'.")
    )
    day_from = models.DateField(_("from"), null=True, blank=True)
    day_until = models.DateField(_("until"), null=True, blank=True)
    laws = models.JSONField(_("rule packs"), null=True)
    total = models.PositiveIntegerField(_("records"))
    reached = models.UUIDField(_("reached"), null=True, editable=False)
    started_at = models.DateTimeField(_("started at"), default=clock.now)
    finished_at = models.DateTimeField(_("finished at"), null=True, blank=True)

    class Meta:
        verbose_name = _("re-check")
        verbose_name_plural = _("re-checks")
        ordering = ["-started_at"]

    def __str__(self) -> str:
        return f"{self.started_at:%Y-%m-%d %H:%M}, {self.packs_of}"


class RecheckResult(AppendOnly, FirmOwned):
    """What came of one record: told by what it shares with the stored check `base`, which stays as it is.

    `differs`: it comes out differently. `fault`: why it could not be checked, in words (then nothing else).
    """

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    run = models.ForeignKey(Recheck, models.PROTECT, related_name="results", verbose_name=_("re-check"))
    base = models.ForeignKey(
        StoredCheck, models.PROTECT, related_name="rechecked", verbose_name=_("stored check")
    )
    outcome = models.CharField(_("outcome"), max_length=20, choices=StoredCheck.Outcome.choices, blank=True)
    differs = models.BooleanField(_("comes out differently"), default=False)
    body = models.BinaryField(_("check"), null=True)
    digest = models.CharField(_("digest"), max_length=80, blank=True)
    fault = models.JSONField(_("fault"), null=True)

    class Meta:
        verbose_name = _("result of a re-check")
        verbose_name_plural = _("results of re-checks")
        constraints = [models.UniqueConstraint(fields=["run", "base"], name="one_result_of_a_check_in_a_run")]
        indexes = [models.Index(fields=["run", "differs"], name="results_that_differ")]

    def __str__(self) -> str:
        return f"{self.base}, {self.run}"

    @cached_property
    def stored(self) -> Json | None:
        """The check as made again, `stored-check/1`; None if it could not be."""
        return thickened(plain(bytes(self.body)), self.base.stored) if self.body else None

    def in_the_open(self) -> Json:
        """What a firm that leaves takes along beside the compressed bytes."""
        return {"check": self.stored}
