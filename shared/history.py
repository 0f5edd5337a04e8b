"""The history of reference rows, as far apart between firms as the rows themselves."""

from typing import Any

from django.conf import settings
from django.core import checks
from django.db import models
from simple_history.manager import HistoricalQuerySet, HistoryManager
from simple_history.models import HistoricalRecords

from shared.tenancy import FirmManager, FirmQuerySet, UnscopedQueryError


class FirmHistoryManager(HistoryManager):
    """`row.history` is that row's; `Model.history.for_firm(firm)` is the firm's; all else is refused."""

    def for_firm(self, firm: Any) -> HistoricalQuerySet:
        return self.get_super_queryset().filter(**{self.model.objects.lookup: firm.pk})

    def get_queryset(self) -> HistoricalQuerySet:
        if self.instance is None:
            raise UnscopedQueryError(f"{self.model.__name__}: name the firm with .for_firm(firm)")
        return super().get_queryset()


class PastRow(models.Model):
    """A row of the past, which was the firm's that it names."""

    across_firms = models.Manager.from_queryset(FirmQuerySet)()
    objects = FirmManager()

    class Meta:
        abstract = True

    def keep_within_one_firm(self) -> None:
        """Copied from a row that was."""


class PastFirm(PastRow):
    """A past state of a firm itself."""

    objects = FirmManager("uuid")

    class Meta:
        abstract = True


def firm_history(past: type[PastRow] = PastRow) -> HistoricalRecords:
    """What a reference model keeps of its own past."""
    return HistoricalRecords(bases=[past], history_manager=FirmHistoryManager)


def check_history_is_kept(**kwargs: Any) -> list[checks.CheckMessage]:
    """System check `shared.E002`: nobody has switched the history off, and with it who changed what."""
    if getattr(settings, "SIMPLE_HISTORY_ENABLED", True):
        return []
    hint = "Take SIMPLE_HISTORY_ENABLED out of the settings."
    return [checks.Error("Changes of rows would leave no trace.", hint=hint, id="shared.E002")]
