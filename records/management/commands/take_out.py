"""`manage.py take_out FIRM FILE`: everything of a firm in one file in open formats, while it is in use.

Exit code 0: written; 1: not; 2: there is no such firm.
"""

import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, NoReturn

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand

from records.backup.wordings import BackupError
from records.leaving.taking_out import take_out
from records.models import Firm
from shared.digests import file_digest
from shared.wording import LANGUAGES, Wording, fill

NOT_WRITTEN, BAD_INPUT = 1, 2
_WRITTEN = Wording(
    "{file}: {files} files, {bytes} bytes, {digest}. It holds {rows} rows, and the log of {entries} entries "
    "with root {root}.",
    "{file}: {files} archivos, {bytes} bytes, {digest}. Contiene {rows} filas y el registro de firmas de "
    "{entries} entradas con raíz {root}.",
)
_PRIVATE = Wording(
    "The private key is not in it, nor are passwords. It holds people's names, addresses and photos, and is "
    "not encrypted.",
    "La clave privada no está en él, ni las contraseñas. Contiene nombres, direcciones y fotos de personas, y "
    "no está cifrado.",
)
_DAMAGED = Wording(
    "MISSING OR DAMAGED, and so not as it was: {name}", "FALTA O ESTÁ DAÑADO, así que no es como era: {name}"
)
_NO_FIRM = Wording("There is no firm {firm}.", "No hay ninguna empresa {firm}.")


class Command(BaseCommand):
    help = "Write everything of a firm into one new file in open formats, while the service is in use."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("firm", metavar="FIRM", help="the firm's id")
        parser.add_argument("file", metavar="FILE", type=Path)
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> None:
        language = options["language"]
        try:
            firm = Firm.across_firms.get(pk=options["firm"])
            written = take_out(firm, options["file"])
        except (ValidationError, Firm.DoesNotExist):
            self._refuse(fill(_NO_FIRM, {"firm": options["firm"]}, language), BAD_INPUT)
        except BackupError as error:
            self._refuse(error.say(language), NOT_WRITTEN)
        blanks = {
            "file": str(options["file"]),
            "files": str(written.files),
            "bytes": str(options["file"].stat().st_size),
            "digest": file_digest(options["file"]),
            "rows": str(written.rows),
            "entries": str(written.entries),
            "root": written.root,
        }
        self.stdout.write(fill(_WRITTEN, blanks, language))
        self.stdout.write(_PRIVATE.say(language))
        for name in written.damaged:
            self.stderr.write(fill(_DAMAGED, {"name": name}, language))

    def _refuse(self, sentence: str, code: int) -> NoReturn:
        self.stderr.write(sentence)
        sys.exit(code)
