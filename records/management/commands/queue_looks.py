"""`manage.py queue_looks`: have the worker look at every firm's log once a day, from now on."""

from typing import Any

from django.core.management.base import BaseCommand

from records.daily_look import queue_looks


class Command(BaseCommand):
    help = "Have the worker look at every firm's log once a day. Calling it again changes nothing."

    def handle(self, **_options: Any) -> None:
        queue_looks()
