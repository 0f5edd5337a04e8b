"""Check one treatment document against the rules, with no database."""

import json
import sys
from argparse import ArgumentParser
from collections.abc import Callable
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from django.core.management.base import BaseCommand

from compliance.check import Check, check_document
from compliance.check_text import check_text
from compliance.rulebook.outcome import Outcome
from records.document.context import CONTEXT_BOUNDS, Context, read_context
from records.document.faults import DocumentFaults, Fault
from records.document.json_text import Bounds
from records.document.reader import DOCUMENT_BOUNDS, read
from shared.files import FileError, read_bounded
from shared.times import TimeError, read_day
from shared.wording import LANGUAGES, Wording

T = TypeVar("T")
PASSED, FAILED, BAD_INPUT, INTERNAL = 0, 1, 2, 3
_INTERNAL = Wording("internal error: {what}", "error interno: {what}")


class Command(BaseCommand):
    """Exit code 0: met or doesn't apply; 1: not met or can't tell; 2: bad input; 3: internal error."""

    help = "Check one treatment document against the rules. Help, not legal advice; no approval."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path, help="the treatment document (JSON)")
        parser.add_argument("--context", type=Path, help="the context (JSON)")
        parser.add_argument("--on", help="the day of the check, such as 2026-09-15")
        parser.add_argument("--language", choices=LANGUAGES, default="en")
        parser.add_argument("--json", action="store_true", help="print the check as JSON")

    def handle(self, *args: object, **options: Any) -> NoReturn:
        language = options["language"]
        try:
            check = _check(options["file"], options["context"], options["on"])
        except DocumentFaults as error:
            self._fail(BAD_INPUT, [fault.say(language) for fault in error.faults])
        except FileError as error:
            self._fail(BAD_INPUT, [error.say(language)])
        except TimeError as error:
            self._fail(BAD_INPUT, [f"--on: {error}"])
        except Exception as error:  # whatever it is, the caller gets code 3 and no traceback
            self._fail(INTERNAL, [_INTERNAL.say(language).format(what=f"{type(error).__name__}: {error}")])
        self.stdout.write(_shown(check, language, options["json"]), ending="")
        sys.exit(PASSED if check.outcome in (Outcome.MET, Outcome.NOT_APPLICABLE) else FAILED)

    def _fail(self, code: int, lines: list[str]) -> NoReturn:
        for line in lines:
            self.stderr.write(line)
        sys.exit(code)


def _check(file: Path, context_file: Path | None, on: str | None) -> Check:
    """Every fault of document and context at once. Raises DocumentFaults, FileError or TimeError."""
    day = None if on is None else read_day(on)
    faults: list[Fault] = []
    document = _read(file, DOCUMENT_BOUNDS, read, faults)
    context = _read(context_file, CONTEXT_BOUNDS, read_context, faults) if context_file else Context()
    if faults or document is None or context is None:
        raise DocumentFaults(faults)
    return check_document(document, context, day)


def _read(file: Path, bounds: Bounds, reader: Callable[[bytes], T], faults: list[Fault]) -> T | None:
    try:
        return reader(read_bounded(file, bounds.most_bytes))
    except DocumentFaults as error:
        faults += error.faults
        return None


def _shown(check: Check, language: str, as_json: bool) -> str:
    if as_json:
        return json.dumps(check.to_json(language), ensure_ascii=False, indent=2) + "\n"
    return check_text(check, language)
