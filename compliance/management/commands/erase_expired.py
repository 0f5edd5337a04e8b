"""`manage.py erase_expired [--dry-run] [--firm ID]`: erase what records past their term say of people.

Nothing calls it by itself. Exit code 0: done; 1: a firm's signing key can't be used; 2: there is no such firm.
"""

import sys
from argparse import ArgumentParser
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand

from compliance.selectors import today_of
from compliance.services.keeping import erase_treatment, expired, term_of_treatment
from records.models import Firm, Treatment
from records.services.erasing import NotErasableError
from records.services.keys import SigningKeyError
from shared.wording import LANGUAGES, Wording, fill

_ERASED = Wording(
    "{firm}, {number}: erased, kept until {until} under {under}",
    "{firm}, {number}: borrado, se guardó hasta el {until} según {under}",
)
_MAY = Wording(
    "{firm}, {number}: may be erased, was to be kept until {until} under {under}",
    "{firm}, {number}: se puede borrar, se debía guardar hasta el {until} según {under}",
)
_KEPT = Wording(
    "{firm}, {number}: kept, its term can't be told any more",
    "{firm}, {number}: se guarda, su plazo ya no se puede determinar",
)
_ALL = {
    True: Wording(
        "{count} may be erased. Nothing was changed.", "Se pueden borrar {count}. No se cambió nada."
    ),
    False: Wording("{count} erased.", "{count} borrados."),
}
_NO_FIRM = Wording("There is no such firm.", "No existe tal empresa.")


class Command(BaseCommand):
    help = "Erase what records past their term say of people. Records, digests and log stay, and still verify."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--dry-run", action="store_true", help="only say what would be erased")
        parser.add_argument("--firm", metavar="ID", help="only of this firm")
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> None:
        language, dry = options["language"], options["dry_run"]
        count = 0
        for firm in self._firms(options["firm"], language):
            today = today_of(firm)
            for treatment in list(expired(firm, today)):
                said = self._said(treatment)
                try:
                    if not dry:
                        erase_treatment(treatment, today)
                except NotErasableError:
                    said = None
                except SigningKeyError as error:
                    self.stderr.write(f"{firm.name}: {error}")
                    sys.exit(1)
                count += said is not None
                blanks = {"firm": firm.name, "number": treatment.number, **(said or {})}
                self.stdout.write(fill((_MAY if dry else _ERASED) if said else _KEPT, blanks, language))
        self.stdout.write(fill(_ALL[dry], {"count": str(count)}, language))

    def _said(self, treatment: Treatment) -> dict[str, str] | None:
        term = term_of_treatment(treatment)
        return term and {"until": term.until.isoformat(), "under": ", ".join(term.under)}

    def _firms(self, wanted: str | None, language: str) -> list[Firm]:
        try:
            firms = list(Firm.across_firms.filter(**({"pk": wanted} if wanted else {})).order_by("name"))
        except ValidationError:
            firms = []
        if wanted and not firms:
            self.stderr.write(_NO_FIRM.say(language))
            sys.exit(2)
        return firms
