"""Entries of who did what as a person reads them."""

import json
from dataclasses import dataclass
from itertools import chain
from typing import Any

from django.apps import apps
from django.core.exceptions import FieldDoesNotExist
from django.utils.functional import Promise
from django.utils.translation import get_language, gettext_lazy
from django.utils.translation import gettext as _

from records.auditing.page_words import said_page
from records.document.member_labels import member_label
from records.document.paths import pattern_of
from records.models import AuditEntry, Treatment
from records.pages.row_changes import said_value
from shared.tenancy import FirmOwned

PAGE = "page"
TREATMENT = Treatment._meta.label_lower
REASONS: dict[str, str | Promise] = {
    "password": gettext_lazy("the password"),
    "second-step": gettext_lazy("the second step at sign-in"),
    "no-account": gettext_lazy("there is no account of this address"),
    "not-allowed": gettext_lazy("not allowed in this role"),
    "not-there": gettext_lazy("not there, or another firm's"),
    "signing-password": gettext_lazy("wrong password at a signature"),
    "signing-passkey": gettext_lazy("wrong passkey at a signature"),
    "too-many-tries": gettext_lazy("the password was wrong too often"),
    "backup": gettext_lazy("a backup of the whole machine"),
    "way-out": gettext_lazy("everything of the firm"),
    "bundle": gettext_lazy("handed over with its proof"),
    "brought-in": gettext_lazy("brought in"),
    "taken-back": gettext_lazy("taken back"),
    "misuse": gettext_lazy("too many tries that failed"),
    "notices": gettext_lazy("notices made ready"),
    "kept": gettext_lazy("kept on a device"),
    "invitation": gettext_lazy("an invitation by mail"),
}
"""Of the machine's own reasons; others are as a person typed them."""
WITHHELD = "withheld"
"""The sections that were left out of what was handed over."""


@dataclass(frozen=True)
class SaidChange:
    name: str
    old: str
    new: str


@dataclass(frozen=True)
class SaidEntry:
    """An entry with its words beside it."""

    entry: AuditEntry
    thing: str
    reason: str
    page: str
    changes: list[SaidChange]


def said(entry: AuditEntry) -> SaidEntry:
    changes = [_said_change(entry.thing, **each) for each in chain(*entry.changes.values())]
    page = said_page(entry.page, entry.thing_name)
    return SaidEntry(entry, thing_word(entry.thing), reason_words(entry.reason), page, changes)


def reason_words(reason: str) -> str:
    return str(REASONS.get(reason, reason))


def thing_word(thing: str) -> str:
    """What a kind of thing is called."""
    if thing == PAGE:
        return _("page")
    try:
        return str(apps.get_model(thing)._meta.verbose_name)
    except (LookupError, ValueError):
        return thing


def kinds_of_things() -> list[tuple[str, str]]:
    """Every kind of thing that an entry may be of, by name."""
    models = [model for model in apps.get_models() if issubclass(model, FirmOwned)]
    labels = [model._meta.label_lower for model in models] + ["records.firm", "records.user", PAGE]
    return sorted(((label, thing_word(label).capitalize()) for label in labels), key=lambda pair: pair[1])


def _said_change(thing: str, member: str, old: Any, new: Any) -> SaidChange:
    return SaidChange(_member_word(thing, member), _value(thing, member, old), _value(thing, member, new))


def _member_word(thing: str, member: str) -> str:
    if member == WITHHELD:
        return _("left out")
    try:
        if thing == TREATMENT and member != "state":
            return member_label(pattern_of(member), _language())
        return str(apps.get_model(thing)._meta.get_field(member).verbose_name)
    except (KeyError, LookupError, FieldDoesNotExist):
        return member


def _value(thing: str, member: str, value: Any) -> str:
    if member == WITHHELD and value:
        return ", ".join(member_label(name, _language()) for name in value)
    if thing == TREATMENT and member != "state":
        try:
            return said_value(member, value, _language())
        except KeyError:
            return json.dumps(value, ensure_ascii=False)
    if value in (None, "", [], {}):
        return _("nothing")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, list) and all(isinstance(each, str) for each in value):
        return ", ".join(value)
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def _language() -> str:
    return (get_language() or "en")[:2]
