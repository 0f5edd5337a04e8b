"""`manage.py print_record FILE -o OUT.pdf`: a signed record, or a mere document, on paper. No database.

Exit code 2 for a file, context or option that cannot be read: each fault with its path on standard error,
and no output file.
"""

import sys
from argparse import ArgumentParser
from datetime import date
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from compliance.check import check_document
from compliance.papers import check_sheet, record_sheet
from records.document.context import CONTEXT_BOUNDS, Context, read_context
from records.document.faults import DocumentFaults
from records.document.json_text import load
from records.document.reader import read
from records.document.record_file import is_record_file, read_record_file
from shared.files import FileError, read_bounded, write_whole
from shared.paper import PAPERS
from shared.times import TimeError, read_day
from shared.wording import LANGUAGES


class Command(BaseCommand):
    help = "Print a signed record, or a mere treatment document, as PDF."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "file", metavar="FILE", type=Path, help="a record file or a treatment document (JSON)"
        )
        parser.add_argument(
            "--context", type=Path, help="the context of the check (JSON), for a mere document"
        )
        parser.add_argument("--on", metavar="DATE", help="the day of the check, for a mere document")
        parser.add_argument("--language", choices=LANGUAGES, default="en")
        parser.add_argument("--paper", choices=tuple(PAPERS), default="letter")
        parser.add_argument("--sheet", choices=("record", "check"), default="record")
        parser.add_argument("--base-address", default="", help="where records are looked up, for the QR code")
        parser.add_argument("-o", "--output", metavar="OUT.pdf", type=Path, required=True)

    def handle(self, *_arguments: Any, **options: Any) -> None:
        try:
            write_whole(options["output"], _printed(options))
        except DocumentFaults as error:
            self._refuse(*(fault.say(options["language"]) for fault in error.faults))
        except TimeError as error:
            self._refuse(f"--on: {error}")
        except FileError as error:
            self._refuse(error.say(options["language"]))

    def _refuse(self, *sentences: str) -> NoReturn:
        for sentence in sentences:
            self.stderr.write(sentence)
        sys.exit(2)


def _printed(options: dict[str, Any]) -> bytes:
    data = read_bounded(options["file"], CONTEXT_BOUNDS.most_bytes)
    language, paper = options["language"], options["paper"]
    context, on = _context(options["context"]), _day(options["on"])
    if options["sheet"] == "record":
        return record_sheet.build(data, language, paper, options["base_address"], at_its_word=True)
    if is_record_file(load(data, CONTEXT_BOUNDS)):
        record = read_record_file(data)
        subject = check_sheet.subject_of(record.document, record)
        return check_sheet.build(check_sheet.stored_check_of(record), subject, language, paper)
    document = read(data)
    stored = check_document(document, context, on).stored()
    return check_sheet.build(stored, check_sheet.subject_of(document), language, paper)


def _context(path: Path | None) -> Context:
    return read_context(read_bounded(path, CONTEXT_BOUNDS.most_bytes) if path else {})


def _day(text: str | None) -> date | None:
    return read_day(text) if text else None

