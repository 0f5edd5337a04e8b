"""Check one treatment document against the rules, with no database."""

import json
import sys
from argparse import ArgumentParser
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from django.core.management.base import BaseCommand

from compliance.check import Check, check_document
from compliance.check_text import check_text
from compliance.rulebook.outcome import Outcome
from records.document.context import Context, read_context
from records.document.faults import DocumentFaults
from records.document.reader import read
from shared.times import TimeError, read_day
from shared.wording import LANGUAGES, Wording

T = TypeVar("T")
PASSED, FAILED, BAD_INPUT, INTERNAL = 0, 1, 2, 3
_UNREADABLE = Wording(
    "there is no file {file} that can be read", "no existe un archivo {file} que se pueda leer"
)
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
        except _BadInputError as error:
            self._fail(BAD_INPUT, [error.wording.say(language)])
        except Exception as error:  # whatever it is, the caller gets code 3 and no traceback
            self._fail(INTERNAL, [_INTERNAL.say(language).format(what=f"{type(error).__name__}: {error}")])
        self.stdout.write(_shown(check, language, options["json"]), ending="")
        sys.exit(PASSED if check.outcome in (Outcome.MET, Outcome.NOT_APPLICABLE) else FAILED)

    def _fail(self, code: int, lines: list[str]) -> NoReturn:
        for line in lines:
            self.stderr.write(line)
        sys.exit(code)


class _BadInputError(ValueError):
    def __init__(self, wording: Wording) -> None:
        super().__init__(wording.en)
        self.wording = wording


def _check(file: Path, context_file: Path | None, on: str | None) -> Check:
    """Every fault of document and context at once. Raises DocumentFaults or _BadInputError."""
    day = None if on is None else _day(on)
    faults = []
    document = _read(file, read, faults)
    context = _read(context_file, read_context, faults) if context_file else Context()
    if faults or document is None or context is None:
        raise DocumentFaults(faults)
    return check_document(document, context, day)


def _read(file: Path, reader: Callable[[bytes], T], faults: list[Any]) -> T | None:
    try:
        return reader(file.read_bytes())
    except OSError:
        said = {language: _UNREADABLE.say(language).format(file=file) for language in LANGUAGES}
        raise _BadInputError(Wording(**said)) from None
    except DocumentFaults as error:
        faults += error.faults
        return None


def _day(text: str) -> date:
    try:
        return read_day(text)
    except TimeError as error:
        raise _BadInputError(Wording(f"--on: {error}", f"--on: {error}")) from None


def _shown(check: Check, language: str, as_json: bool) -> str:
    if as_json:
        return json.dumps(check.to_json(language), ensure_ascii=False, indent=2) + "\n"
    return check_text(check, language)
