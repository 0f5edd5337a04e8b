"""Entries of who did what as CSV, line by line."""

import json
from collections.abc import Iterable, Iterator

from django.utils import translation
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from records.auditing.page_words import said_page
from records.auditing.words import REASONS, kinds_of_things
from records.models import AuditEntry
from shared.spreadsheet_cells import csv_lines


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
    return csv_lines(names, _rows(entries, kinds, things, reasons, get_language() or "en"))


def _rows(
    entries: Iterable[AuditEntry],
    kinds: dict[str, str],
    things: dict[str, str],
    reasons: dict[str, str],
    language: str,
) -> Iterator[list[str]]:
    for entry in entries:
        with translation.override(language):  # that of the request is over by then
            page = said_page(entry.page, entry.thing_name)
        yield [
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

