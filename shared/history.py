"""The history of reference rows, as far apart between firms as the rows themselves."""

from typing import Any

from simple_history.manager import HistoricalQuerySet, HistoryManager
from simple_history.models import HistoricalRecords

from shared.tenancy import UnscopedQueryError


class FirmHistoryManager(HistoryManager):
    """`row.history` is that row's; `Model.history.for_firm(firm)` is the firm's; all else is refused."""

    def for_firm(self, firm: Any) -> HistoricalQuerySet:
        lookup = "uuid" if self.model.instance_type is type(firm) else "firm"
        return self.get_super_queryset().filter(**{lookup: firm.pk})

    def get_queryset(self) -> HistoricalQuerySet:
        if self.instance is None:
            raise UnscopedQueryError(f"{self.model.__name__}: name the firm with .for_firm(firm)")
        return super().get_queryset()


def firm_history() -> HistoricalRecords:
    """What a reference model keeps of its own past."""
    return HistoricalRecords(history_manager=FirmHistoryManager)
