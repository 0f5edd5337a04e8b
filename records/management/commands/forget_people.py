"""`manage.py forget_people`: take out what is known of people near sites that no treatment needs any more.

For a timer, once a day.
"""

from typing import Any

from django.core.management.base import BaseCommand

from records.models import Firm
from records.services.forgetting import forget_people


class Command(BaseCommand):
    help = "Take out neighbours, occupants, parcels and registers that no treatment needs any more."

    def handle(self, *_arguments: Any, **_options: Any) -> None:
        for firm in Firm.across_firms.order_by("name"):
            gone = forget_people(firm)
            self.stdout.write(
                f"{firm.name}: {gone.sites} sites, {gone.registers} registers, {gone.files} files that waited"
            )
