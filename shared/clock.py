"""The one place that asks for the time, so that tests and imports can move it."""

from datetime import datetime

from django.utils import timezone


def now() -> datetime:
    """The present moment, with its offset."""
    return timezone.now()
