"""Signed records of a firm with what proves them, as a file that anyone can check.

`manage.py write_bundle FIRM --output OUT.zip [--record NUMBER] [--withhold SECTION] [--with-notices]
[--sheets LANG] [--photos]`

Exit code 0: written; 2: no such firm, record or section, nothing signed, or the file is there already.
"""

import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, NoReturn
from uuid import UUID

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand

from compliance.services.drawn_sheets import sheets_beside
from records.bundle.writer import NothingToBundleError
from records.forms.hand_over import SECTIONS
from records.models import Firm, SignedRecord, Treatment
from records.services.handing_over import AT_FIRST, hand_over
from shared.wording import LANGUAGES, Wording, fill

BAD_INPUT = 2
_NO_FIRM = Wording("There is no firm {firm}.", "No hay ninguna empresa {firm}.")
_NO_RECORD = Wording("The firm has no record {number}.", "La empresa no tiene el registro {number}.")
_NOTHING = Wording("Nothing of this is signed.", "Nada de esto está firmado.")
_THERE = Wording("{file} is there already.", "{file} ya existe.")
_UNWRITABLE = Wording("{file} can't be written: {why}", "No se puede escribir {file}: {why}")


class Command(BaseCommand):
    help = "Write signed records with what proves them, as a file that anyone can check."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("firm", metavar="FIRM", help="the firm's id")
        parser.add_argument(
            "--record", metavar="NUMBER", action="append", help="only this record; may be repeated"
        )
        parser.add_argument(
            "--withhold",
            metavar="SECTION",
            nargs="+",
            default=[],
            choices=SECTIONS,
            help="leave these sections out; notices are, too, and with the customer also incidents",
        )
        parser.add_argument(
            "--with-notices", action="store_true", help="with notices, although they may name neighbours"
        )
        parser.add_argument(
            "--sheets", nargs="+", default=[], choices=LANGUAGES, help="record sheets beside the data"
        )
        parser.add_argument("--photos", action="store_true", help="the photos that the records name")
        parser.add_argument("--output", metavar="OUT.zip", type=Path, required=True)
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> None:
        self.language = options["language"]
        firm = self._firm(options["firm"])
        treatments, target = self._treatments(firm, options["record"]), options["output"]
        half = target.with_name(f".{target.name}.part")
        if target.exists():
            self._refuse(_THERE, file=str(target))
        try:
            with half.open("xb") as out:
                beside = sheets_beside(options["sheets"])
                withheld = [*options["withhold"], *(() if options["with_notices"] else AT_FIRST)]
                wanted = {"withheld": withheld, "photos": options["photos"], "beside": beside}
                hand_over(firm, treatments, out, page="write_bundle", **wanted)
            half.rename(target)
        except NothingToBundleError:
            self._refuse(_NOTHING)
        except OSError as error:
            self._refuse(_UNWRITABLE, file=str(target), why=error.strerror or str(error))
        finally:
            half.unlink(missing_ok=True)

    def _firm(self, wanted: str) -> Firm:
        try:
            return Firm.across_firms.get(pk=wanted)
        except (ValidationError, Firm.DoesNotExist):
            self._refuse(_NO_FIRM, firm=wanted)

    def _treatments(self, firm: Firm, numbers: list[str] | None) -> list[UUID]:
        treatments = Treatment.objects.for_firm(firm).order_by("number")
        if numbers is None:
            signed = SignedRecord.objects.for_firm(firm).order_by("treatment__number").distinct()
            return list(signed.values_list("treatment", flat=True))
        found = dict(treatments.filter(number__in=numbers).values_list("number", "pk"))
        for number in numbers:
            if number not in found:
                self._refuse(_NO_RECORD, number=number)
        return list(found.values())

    def _refuse(self, wording: Wording, **blanks: str) -> NoReturn:
        self.stderr.write(fill(wording, blanks, self.language))
        sys.exit(BAD_INPUT)
