"""`manage.py restore FILE`: put a backup in, if every firm's log holds against the heads in it; or one firm
that left (`manage.py take_out`) into an empty service.

Exit code 0: in service; 1: not, and what was there before is there again.
"""

import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from records.backup.archive import schema_of
from records.backup.restoring import Restored, restore
from records.backup.wordings import BackupError
from records.leaving.restoring import restore_firm
from records.leaving.writing import LEAVING
from shared.digests import named
from shared.wording import LANGUAGES, Wording, fill

_FIRM = Wording("{firm}: {entries} entries, root {root}", "{firm}: {entries} entradas, raíz {root}")
_FAILS = Wording("FAILS  {what}", "FALLA  {what}")
_STRANGER = Wording(
    "there is no firm {firm}, of which there is a head", "no hay empresa {firm}, de la que hay cabecera"
)
_REFUSED = Wording(
    "A log does not hold, so the backup was not taken into service: what was there before is there again.",
    "Un registro de firmas no vale, así que la copia no se puso en servicio: está de nuevo lo que había antes.",
)
_DAMAGED = Wording("Not in the backup as it was taken: {name}", "No está en la copia como se tomó: {name}")
_NO_KEY = Wording(
    "{firm} can't sign: the private half of its key is not here. Put it back into KEY_DIR, or make a new one "
    "with manage.py replace_lost_keys.",
    "{firm} no puede firmar: la parte privada de su clave no está aquí. Repóngala en KEY_DIR o cree otra con "
    "manage.py replace_lost_keys.",
)
_DONE = Wording(
    "All logs hold. The backup is in service.", "Todos los registros valen. La copia está en servicio."
)


class Command(BaseCommand):
    help = "Put a backup in the place of what is here, or a firm that left into an empty service."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", metavar="FILE", type=Path)
        parser.add_argument("--replace", action="store_true", help="although there are data here")
        parser.add_argument(
            "--lose-entries", action="store_true", help="although the log here has entries that it has not"
        )
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> None:
        language = options["language"]
        try:
            if schema_of(options["file"]) == LEAVING.schema:
                restored = restore_firm(options["file"])
            else:
                restored = restore(options["file"], options["replace"], options["lose_entries"])
        except BackupError as error:
            self.stderr.write(error.say(language))
            sys.exit(1)
        self._logs(restored, language)
        if not restored.holds:
            self.stderr.write(_REFUSED.say(language))
            sys.exit(1)
        for name in restored.damaged:
            self.stderr.write(fill(_DAMAGED, {"name": name}, language))
        for firm in restored.without_key:
            self.stderr.write(fill(_NO_KEY, {"firm": firm.name}, language))
        self.stdout.write(_DONE.say(language))

    def _logs(self, restored: Restored, language: str) -> None:
        for firm, looked in restored.logs:
            blanks = {"firm": firm.name, "entries": str(looked.entries), "root": named(looked.root)}
            self.stdout.write(fill(_FIRM, blanks, language))
            for broken in looked.broken:
                what = f"{broken.whose} {broken.fault.sentence(language)}".strip()
                self.stdout.write(fill(_FAILS, {"what": what}, language))
        for firm in restored.strangers:
            what = fill(_STRANGER, {"firm": firm}, language)
            self.stdout.write(fill(_FAILS, {"what": what}, language))
