"""`manage.py verify_log [--firm ID]`: whether each firm's log holds, entry by entry.

Exit code 0: all hold; 1: something does not; 2: no such firm, not a head, or a damaged database.
"""

import json
import sys
from argparse import ArgumentParser
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NoReturn

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand
from django.db import DatabaseError

from records.document.tree_head import is_tree_head
from records.log_check import look_at_log
from records.log_found import Broken, Erased, Looked
from records.models import Firm, KeyChange
from shared.digests import named
from shared.files import FileError, read_bounded
from shared.wording import LANGUAGES, Wording, fill

HOLDS, FAILS, BAD_INPUT = 0, 1, 2
MOST_BYTES = 10_000
_FIRM = Wording(
    "{firm}: {entries} entries, {heads} signed heads, root {root}",
    "{firm}: {entries} entradas, {heads} cabeceras firmadas, raíz {root}",
)
_STAMPS = Wording(
    "{firm}: {count} heads time-stamped, the last of size {size}: {at}, {authority}",
    "{firm}: {count} cabeceras con sello de tiempo, la última de tamaño {size}: {at}, {authority}",
)
_BEFORE_HEADS = Wording(
    "{firm}: {count} entries came in before signed heads were kept: nothing signed says when",
    "{firm}: {count} entradas llegaron antes de guardarse cabeceras firmadas: nada firmado dice cuándo",
)
_AT_THEIR_WORD = Wording(
    "Whether to trust that authority was not looked at: name its certificates in TIME_STAMP_ROOTS.",
    "No se miró si esa autoridad es de confianza: indique sus certificados en TIME_STAMP_ROOTS.",
)
_STRANGE = Wording(
    "{firm}: {count} time-stamps by authorities that are not among TIME_STAMP_ROOTS do not count",
    "{firm}: no cuentan {count} sellos de tiempo de autoridades que no están en TIME_STAMP_ROOTS",
)
_LATE = Wording(
    "{firm}: the head of size {size} was time-stamped {days} days after it was signed, at {at}",
    "{firm}: la cabecera de tamaño {size} recibió su sello de tiempo {days} días después de firmarse, el {at}",
)
_WITHOUT = Wording(
    "{firm}: no head of its own day is time-stamped: {days}",
    "{firm}: sin sello de tiempo de una cabecera del mismo día: {days}",
)
_KEY_CHANGED = {
    False: Wording(
        "key changed  {replaces} to {key}, entry {index}: signed by both",
        "clave cambiada  {replaces} por {key}, entrada {index}: firmado por ambas",
    ),
    True: Wording(
        "KEY LOST  {replaces}, followed by {key}, entry {index}: the old key did not sign",
        "CLAVE PERDIDA  {replaces}, seguida de {key}, entrada {index}: la clave anterior no firmó",
    ),
}
_LOG = Wording("the log", "el registro de firmas")
_FAILS = Wording("FAILS", "FALLA")
_ERASED = Wording(
    "erased  {whose}: {sections}, on {on} under {under}", "borrado  {whose}: {sections}, el {on} según {under}"
)
_WHOLE = {
    True: Wording("The log holds.", "El registro de firmas vale."),
    False: Wording("The log does not hold.", "El registro de firmas no vale."),
}
_NO_FIRM = Wording("There is no firm {firm}.", "No hay ninguna empresa {firm}.")
_UNREADABLE = Wording(
    "The database can't be read whole, so nothing can be said of the log: {why}. Restore it from a backup.",
    "La base de datos no se puede leer entera, así que nada se puede decir del registro de firmas: {why}. "
    "Restáurela de una copia.",
)
_NO_HEAD = Wording("{file} is no signed head of a log.", "{file} no es la cabecera firmada de un registro.")


class Command(BaseCommand):
    """Exit code 0: holds; 1: does not hold; 2: bad input."""

    help = (
        "Work every firm's log out anew from the signed records, and name what does not fit. Run it once a day."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--firm", metavar="ID", help="only this firm's log")
        parser.add_argument(
            "--head", metavar="FILE", type=Path, help="a head that was kept elsewhere must fit, too"
        )
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *_arguments: Any, **options: Any) -> NoReturn:
        try:
            self._look(options, options["language"])
        except (DatabaseError, ValueError, TypeError) as error:
            why = str(error).strip() or type(error).__name__
            self._refuse(fill(_UNREADABLE, {"why": why}, options["language"]))

    def _look(self, options: Mapping[str, Any], language: str) -> NoReturn:
        head = self._head(options["head"], language)
        firms = self._firms(options["firm"] or (head and head["log"]), language)
        holds = True
        for firm in firms:
            looked = look_at_log(firm, kept=head)
            blanks = {
                "firm": firm.name,
                "entries": str(looked.entries),
                "heads": str(looked.heads),
                "root": named(looked.root),
            }
            self.stdout.write(fill(_FIRM, blanks, language))
            if count := looked.before_heads:
                self.stdout.write(fill(_BEFORE_HEADS, {"firm": firm.name, "count": str(count)}, language))
            self._say_time_stamps(firm, looked, language)
            for change in looked.key_changes:
                self.stdout.write(fill(_KEY_CHANGED[change.lost], _changed(change), language))
            for broken in looked.broken:
                self.stdout.write(f"{_FAILS.say(language)}  {_line(broken, language)}")
            for erased in looked.erased:
                self.stdout.write(fill(_ERASED, _said(erased), language))
            holds = holds and not looked.broken
        self.stdout.write(_WHOLE[holds].say(language))
        sys.exit(HOLDS if holds else FAILS)

    def _say_time_stamps(self, firm: Firm, looked: Looked, language: str) -> None:
        if newest := looked.newest_time_stamp:
            blanks = {
                "firm": firm.name,
                "count": str(looked.time_stamps),
                "size": str(newest.head.size),
                "at": newest.at.isoformat(),
                "authority": newest.authority,
            }
            self.stdout.write(fill(_STAMPS, blanks, language))
            if not settings.TIME_STAMP_ROOTS:
                self.stdout.write(_AT_THEIR_WORD.say(language))
        for late in looked.late_time_stamps:
            days = str((late.at - late.head.made_at).days)
            blanks = {"firm": firm.name, "size": str(late.head.size), "days": days, "at": late.at.isoformat()}
            self.stdout.write(fill(_LATE, blanks, language))
        if without := looked.days_without_time_stamp:
            blanks = {"firm": firm.name, "days": ", ".join(day.isoformat() for day in without)}
            self.stdout.write(fill(_WITHOUT, blanks, language))
        if count := looked.strange_time_stamps:
            self.stdout.write(fill(_STRANGE, {"firm": firm.name, "count": str(count)}, language))

    def _firms(self, wanted: str | None, language: str) -> list[Firm]:
        try:
            firms = Firm.across_firms.filter(**({"pk": wanted} if wanted else {})).order_by("name")
        except ValidationError:
            firms = Firm.across_firms.none()
        if wanted and not firms:
            self._refuse(fill(_NO_FIRM, {"firm": wanted}, language))
        return list(firms)

    def _head(self, file: Path | None, language: str) -> dict[str, Any] | None:
        if file is None:
            return None
        try:
            head = json.loads(read_bounded(file, MOST_BYTES))
        except FileError as error:
            self._refuse(error.say(language))
        except ValueError:
            head = None
        if not is_tree_head(head):
            self._refuse(fill(_NO_HEAD, {"file": str(file)}, language))
        return head

    def _refuse(self, sentence: str) -> NoReturn:
        self.stderr.write(sentence)
        sys.exit(BAD_INPUT)


def _said(erased: Erased) -> dict[str, str]:
    return {
        "whose": erased.whose,
        "sections": ", ".join(erased.sections),
        "on": erased.erasure.on.isoformat(),
        "under": ", ".join(erased.erasure.under),
    }


def _changed(change: KeyChange) -> dict[str, str]:
    return {
        "replaces": change.replaces.digest,
        "key": change.key.digest,
        "index": str(change.entry.index),
    }


def _line(broken: Broken, language: str) -> str:
    return f"{broken.whose or _LOG.say(language)}: {broken.fault.sentence(language)}"
