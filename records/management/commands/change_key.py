"""`manage.py change_key FIRM`: a new signing key for a firm, introduced by the one in force.

Exit code 0: made; 1: the old key can't sign (`replace_lost_keys` is for that); 2: there is no such firm.
"""

import sys
from argparse import ArgumentParser
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand

from records.models import Firm
from records.services.key_changes import change_key
from records.services.keys import SigningKeyError

NO_KEY, BAD_INPUT = 1, 2


class Command(BaseCommand):
    help = "Make a new signing key for a firm; the old and the new one sign the change."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("firm", metavar="FIRM", help="the firm's id")

    def handle(self, *_arguments: Any, **options: Any) -> None:
        try:
            firm = Firm.across_firms.get(pk=options["firm"])
            key = change_key(firm)
        except (ValidationError, Firm.DoesNotExist):
            self.stderr.write(f"There is no firm {options['firm']}.")
            sys.exit(BAD_INPUT)
        except SigningKeyError as error:
            self.stderr.write(f"{error}; or, where there is none, run manage.py replace_lost_keys")
            sys.exit(NO_KEY)
        self.stdout.write(f"{firm.name}: {key.digest}")
