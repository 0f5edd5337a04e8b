"""What a manager is told of the looks at the firm's log."""

from dataclasses import dataclass
from datetime import timedelta

from records.models import Firm, LogLook, SigningKey
from shared import clock

OVERDUE = timedelta(days=2)


@dataclass(frozen=True)
class LogAlarm:
    """The newest look found something, or there was none for days."""

    look: LogLook

    @property
    def whose(self) -> list[str]:
        """The records that do not hold, by number and version."""
        return list(dict.fromkeys(one["whose"] for one in self.look.broken if one["whose"]))


def looks_at(firm: Firm, most: int) -> list[LogLook]:
    """The newest looks first."""
    return list(LogLook.objects.for_firm(firm).select_related("by")[:most])


def alarm_of(firm: Firm) -> LogAlarm | None:
    """What stands on a manager's pages until a look has found the log whole."""
    newest = LogLook.objects.for_firm(firm).first()
    if newest is None or (newest.is_whole and newest.at > clock.now() - OVERDUE):
        return None
    return LogAlarm(newest)


def keys_of(firm: Firm) -> list[SigningKey]:
    """The firm's keys, the newest first, each with the changes that introduced and that replaced it."""
    keys = SigningKey.objects.for_firm(firm).select_related("introduced__entry", "replaced__entry")
    return list(keys.order_by("-made_at"))
