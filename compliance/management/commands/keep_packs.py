"""Keep the rule packs that are installed, so that every check can be made again by them in any later year."""

from typing import Any

from django.core.management.base import BaseCommand

from compliance.services.pack_keeping import note_packs_in_use


class Command(BaseCommand):
    help = __doc__

    def handle(self, *args: object, **options: Any) -> None:
        new = note_packs_in_use()
        if options["verbosity"]:
            self.stdout.write(f"{new} versions of rule packs are new and kept.")
