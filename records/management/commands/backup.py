"""`manage.py backup FILE`: the whole service in one file, while it is in use.

Exit code 0: made; 1: not.
"""

import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from records.backup.making import make_backup
from records.backup.wordings import BackupError
from shared.digests import file_digest
from shared.wording import LANGUAGES, Wording, fill

_MADE = Wording(
    "{file}: {files} files, {bytes} bytes, {digest}. It holds database, photos and the newest signed heads of "
    "{firms} logs.",
    "{file}: {files} archivos, {bytes} bytes, {digest}. Contiene la base de datos, las fotos y las últimas "
    "cabeceras firmadas de {firms} registros de firmas.",
)
_KEYS = {
    True: Wording(
        "THE PRIVATE KEYS ARE IN IT: whoever has this file can sign as the firms. Keep it as secret.",
        "CONTIENE LAS CLAVES PRIVADAS: quien tenga este archivo puede firmar como las empresas. Guárdelo tan "
        "en secreto como las claves.",
    ),
    False: Wording(
        "The private keys are not in it: what is restored can be verified, but to sign, KEY_DIR must be put "
        "back from elsewhere, or new keys made. --with-keys puts them in.",
        "Las claves privadas no están en él: lo restaurado se puede verificar, pero para firmar hay que "
        "reponer KEY_DIR de otro lugar o crear claves nuevas. --with-keys las incluye.",
    ),
}
_DAMAGED = Wording(
    "MISSING OR DAMAGED, and so not as it was taken: {name}",
    "FALTA O ESTÁ DAÑADA, así que no es como se tomó: {name}",
)


class Command(BaseCommand):
    help = (
        "Put database, photos and the newest heads of all logs into one new file, while the service is in use."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", metavar="FILE", type=Path)
        parser.add_argument(
            "--with-keys", action="store_true", help="the firms' private keys, too: keep the file as secret"
        )
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> None:
        language = options["language"]
        try:
            made = make_backup(options["file"], options["with_keys"])
        except BackupError as error:
            self.stderr.write(error.say(language))
            sys.exit(1)
        blanks = {
            "file": str(made.file),
            "files": str(made.files),
            "bytes": str(made.bytes),
            "digest": file_digest(made.file),
            "firms": str(made.firms),
        }
        self.stdout.write(fill(_MADE, blanks, language))
        self.stdout.write(_KEYS[options["with_keys"]].say(language))
        for name in made.damaged:
            self.stderr.write(fill(_DAMAGED, {"name": name}, language))
