"""`manage.py replace_lost_keys`: a new signing key for each firm whose private half is gone or damaged."""

from typing import Any

from django.core.management.base import BaseCommand

from records.models import Firm
from records.services.key_changes import replace_lost_key


class Command(BaseCommand):
    help = "Make a new key for each firm that can't sign any more. Its old records are verified as before."

    def handle(self, **_options: Any) -> None:
        for firm in Firm.across_firms.order_by("name"):
            if key := replace_lost_key(firm):
                self.stdout.write(f"{firm.name}: {key.digest}")
