"""`manage.py sweep_photos`: let go of photos of every firm that were begun to be sent and never came."""

from typing import Any

from django.core.management.base import BaseCommand

from records.models import Firm
from records.services.photo_evidence import sweep


class Command(BaseCommand):
    help = "Remove photos of which no piece has come for a week. Run it once a day."

    def handle(self, **_options: Any) -> None:
        swept = sum(sweep(firm) for firm in Firm.across_firms.all())
        self.stdout.write(f"{swept} removed")
