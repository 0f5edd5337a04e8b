"""`manage.py verify_record FILE [--key DIGEST]`: whether a record file holds, thing by thing. No database.

Exit code 0: it holds; 1: something does not, or could not be verified; 2: not a record file.
"""

import re
import sys
from argparse import ArgumentParser, ArgumentTypeError
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from records.document.context import CONTEXT_BOUNDS
from records.document.faults import DocumentFaults
from records.document.proof import proofs_of
from records.document.proven import Proof
from records.document.record_file import load_record_file
from shared.files import FileError, read_bounded
from shared.wording import LANGUAGES, Wording, fill

HOLDS, FAILS, BAD_INPUT = 0, 1, 2
_HOLDS = Wording("holds", "vale")
_WITHHELD = Wording("withheld", "no incluido")
_STATED = Wording("stated, not signed", "indicado, no firmado")
_FAILS = Wording("FAILS", "FALLA")
_WHOLE = {
    True: Wording("The record holds.", "El registro vale."),
    False: Wording("The record does not hold.", "El registro no vale."),
}
_COMPARE = Wording(
    "The key came with the file: {keys}. Compare it with the one that the firm has given, or name that one "
    "with --key.",
    "La clave vino con el archivo: {keys}. Compárela con la que dio la empresa, o indique esa con --key.",
)
_NO_PLACE = Wording(
    "Its place in the log was not looked at: the file brings no proof of it. Who signed, as what and when is "
    "what the file says. A bundle, or the record downloaded anew, proves it.",
    "No se miró su lugar en el registro de firmas: el archivo no trae prueba de él. Quién firmó, en calidad de "
    "qué y cuándo es lo que dice el archivo. Lo prueba un paquete, o el registro descargado de nuevo.",
)
_BEYOND = Wording(
    "A later version, a void or a follow-up may exist beyond this file: see its proof page (the code on its "
    "record sheet leads there).",
    "Puede haber una versión posterior, una anulación o un seguimiento que no está en este archivo: vea su "
    "página de prueba (el código de su hoja lleva a ella).",
)


class Command(BaseCommand):
    """Exit code 0: holds; 1: does not hold, or cannot be verified; 2: not a record file."""

    help = "Verify the signature, sections, check and follow-ups of a record file."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", metavar="FILE", type=Path, help="a record file (JSON)")
        parser.add_argument(
            "--key", metavar="DIGEST", type=_key_named, help="the digest of the firm's key: no other counts"
        )
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> NoReturn:
        language, trusted = options["language"], options["key"]
        try:
            file = load_record_file(read_bounded(options["file"], CONTEXT_BOUNDS.most_bytes))
        except DocumentFaults as error:
            self._refuse(*(fault.say(language) for fault in error.faults))
        except FileError as error:
            self._refuse(error.say(language))
        proofs = proofs_of(file, trusted)
        for proof in proofs:
            self.stdout.write(_line(proof, language))
        if file.get("log") is None:
            self.stdout.write(_NO_PLACE.say(language))
        self.stdout.write(_BEYOND.say(language))
        holds = not any(proof.fault for proof in proofs)
        self.stdout.write(_WHOLE[holds].say(language))
        if holds and trusted is None:
            self.stdout.write(fill(_COMPARE, {"keys": ", ".join(file["keys"])}, language))
        sys.exit(HOLDS if holds else FAILS)

    def _refuse(self, *sentences: str) -> NoReturn:
        for sentence in sentences:
            self.stderr.write(sentence)
        sys.exit(BAD_INPUT)


def _key_named(text: str) -> str:
    """The digest of a key as people copy it: with or without its prefix, in capitals, with spaces."""
    found = "".join(text.split()).lower().removeprefix("sha256:")
    if not re.fullmatch("[0-9a-f]{64}", found):
        raise ArgumentTypeError("a digest is 64 characters of 0-9 and a-f, with or without sha256:")
    return f"sha256:{found}"


def _line(proof: Proof, language: str) -> str:
    if proof.fault:
        return f"{_FAILS.say(language)}  {proof.fault.say(language)}"
    if proof.stated:
        return f"{_STATED.say(language)}  {proof.path}"
    state = _WITHHELD if proof.withheld else _HOLDS
    return f"{state.say(language)}  {proof.path}"
