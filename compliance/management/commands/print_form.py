"""Signed records of a firm on the form on which an authority wants copies, as PDF.

`manage.py print_form FIRM FORM --record NUMBER [--record NUMBER …] --output OUT.pdf [--for WHO]
[--withhold SECTION]`

Exit code 0: written; 2: no such firm, form or record, or nothing signed.
"""

import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, NoReturn

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand

from compliance.services.official_forms import drawn_form, form_named
from records.forms.hand_over import SECTIONS
from records.models import AuditEntry, Firm, Treatment
from records.services.audit import note
from shared.files import FileError, write_whole
from shared.wording import LANGUAGES, Wording, fill

BAD_INPUT = 2
_NO_FIRM = Wording("There is no firm {firm}.", "No hay ninguna empresa {firm}.")
_NO_FORM = Wording("No pack has a form {form}.", "Ningún paquete tiene un formulario {form}.")
_NO_RECORD = Wording(
    "The firm has no signed record {number} where this form is asked for.",
    "La empresa no tiene ningún registro firmado {number} donde se pide este formulario.",
)


class Command(BaseCommand):
    help = "Write signed records on the form on which an authority wants copies."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("firm", metavar="FIRM", help="the firm's id")
        parser.add_argument("form", metavar="FORM", help="pack and form, such as us-wa-application-record")
        parser.add_argument("--record", metavar="NUMBER", action="append", required=True)
        parser.add_argument("--for", metavar="WHO", dest="authority", default="", help="who asks for it")
        parser.add_argument(
            "--withhold", metavar="SECTION", nargs="+", default=[], choices=SECTIONS, help="leave these out"
        )
        parser.add_argument("--language", choices=LANGUAGES, default="en")
        parser.add_argument("--output", metavar="OUT.pdf", type=Path, required=True)

    def handle(self, *_arguments: Any, **options: Any) -> None:
        self.language = options["language"]
        firm, form = self._firm(options["firm"]), form_named(options["form"])
        if form is None:
            self._refuse(_NO_FORM, form=options["form"])
        rows = Treatment.objects.for_firm(firm).filter(number__in=options["record"]).select_related("firm")
        treatments = list(form.holds_for(rows, firm).order_by("site", "day", "number"))
        found = {each.number for each in treatments}
        for number in options["record"]:
            if number not in found:
                self._refuse(_NO_RECORD, number=number)
        for each in treatments:
            note(AuditEntry.Kind.PRINTED, each, firm=firm, by=None, page="print_form")
        what = {"withheld": options["withhold"], "authority": options["authority"]}
        try:
            write_whole(options["output"], drawn_form(form, treatments, self.language, **what))
        except FileError as error:
            self.stderr.write(error.say(self.language))
            sys.exit(BAD_INPUT)

    def _firm(self, wanted: str) -> Firm:
        try:
            return Firm.across_firms.get(pk=wanted)
        except (ValidationError, Firm.DoesNotExist):
            self._refuse(_NO_FIRM, firm=wanted)

    def _refuse(self, wording: Wording, **blanks: str) -> NoReturn:
        self.stderr.write(fill(wording, blanks, self.language))
        sys.exit(BAD_INPUT)
