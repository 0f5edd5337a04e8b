"""Entries of who did what as CSV (RFC 4180), line by line.

Where a spreadsheet would take a cell for a formula an apostrophe stands before the sign that begins one, and
the file begins with the mark by which spreadsheets know its letters (common practice, no source). So it is
within a cell, too, after a semicolon, a tab or the end of a line: some spreadsheets divide cells there,
whatever quotes are around them.
"""

import csv
import json
import re
from collections.abc import Iterable, Iterator

from django.utils import translation
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from records.auditing.page_words import said_page
from records.auditing.words import REASONS, kinds_of_things
from records.models import AuditEntry

BYTE_ORDER_MARK = "\ufeff"
_FORMULA = re.compile(r"""(^|[;\t\r\n])([ "]*)(?=[=+\-@＝＋－＠])""")


class _Echo:
    """What a writer writes, given back."""

    def write(self, line: str) -> str:
        return line


def lines(entries: Iterable[AuditEntry]) -> Iterator[str]:
    """The file's lines in the language of the request, whose words are looked up before the first line is
    sent: the rest is made when the request is over."""
    names = [
        _("when (UTC)"), _("when (local)"), _("time zone"), _("who"), _("account"), _("what was done"),
        _("kind of thing"), _("id of the thing"), _("name of the thing"), _("old and new"), _("reason"),
        _("page"), _("address"),
    ]  # fmt: skip
    kinds = {value: str(label) for value, label in AuditEntry.Kind.choices}
    things = dict(kinds_of_things())
    reasons = {code: str(words) for code, words in REASONS.items()}
    return _written(names, entries, kinds, things, reasons, get_language() or "en")


def _written(
    names: list[str],
    entries: Iterable[AuditEntry],
    kinds: dict[str, str],
    things: dict[str, str],
    reasons: dict[str, str],
    language: str,
) -> Iterator[str]:
    writer = csv.writer(_Echo())
    yield BYTE_ORDER_MARK + writer.writerow(names)
    for entry in entries:
        with translation.override(language):  # that of the request is over by then
            page = said_page(entry.page, entry.thing_name)
        cells = [
            entry.at.isoformat(timespec="seconds"),
            entry.local.isoformat(timespec="seconds"),
            entry.zone,
            entry.by_name,
            str(entry.by_id or ""),
            kinds[entry.kind],
            things.get(entry.thing, entry.thing),
            entry.thing_id,
            entry.thing_name,
            json.dumps(entry.changes, ensure_ascii=False, sort_keys=True) if entry.changes else "",
            reasons.get(entry.reason, entry.reason),
            page,
            entry.page,
        ]
        yield writer.writerow(_harmless(cell) for cell in cells)


def _harmless(cell: str) -> str:
    return _FORMULA.sub(r"\1\2'", f"'{cell}" if cell.startswith(("\t", "\r")) else cell)
