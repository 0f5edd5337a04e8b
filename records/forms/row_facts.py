"""What is read of a person, rig or product beside its fields, where a device writes it into the form."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _

from records.document.words import WORD_LISTS
from shared.quantities import read as read_quantity

Json = dict[str, Any]


def facts_of_mix(mix: Json, language: str) -> Iterator[tuple[str, str]]:
    """What is in a mix, and which loads it has."""
    for line in mix.get("products") or []:
        yield line.get("name", ""), read_quantity(line["amount"]).say(language)
    for load in mix.get("loads") or []:
        yield _("Load"), read_quantity(load["volume"]).say(language)


def facts_of(kind: str, part: Json, language: str) -> Iterator[tuple[str, str]]:
    """What is read of the row beside its fields, as a person reads it."""
    if kind == "people":
        said = [
            f"{each.get('kind', '')} {each.get('number', '')}".strip() for each in part.get("licences") or []
        ]
        yield _("Licences"), "; ".join(said) or _("None")
        return
    if kind == "rigs":
        rows = ((_("Identification"), "identification"), (_("Calibrated on"), "calibrated_on"))
        yield from ((words, part[name]) for words, name in rows if part.get(name))
        return
    label = part.get("label") or {}
    rows = (
        (_("Registration number"), part.get("registration_number", "")),
        (_("Signal word"), _words("signal_word", [part.get("signal_word", "")], language)),
        (_("Label version"), label.get("version", "")),
        (_("The label's limits"), "; ".join(_limit(each, language) for each in label.get("limits") or [])),
        (_("Protective equipment that the label asks for"), _words("ppe", label.get("ppe") or [], language)),
    )
    yield from ((words, text) for words, text in rows if text)


def _words(word_list: str, words: Iterable[str], language: str) -> str:
    known = WORD_LISTS[word_list]
    return ", ".join(known[word].say(language) for word in words if word in known)


def _limit(limit: Json, language: str) -> str:
    ends = [
        words % {"amount": read_quantity(limit[name]).say(language)}
        for name, words in (("min", _("at least %(amount)s")), ("max", _("at most %(amount)s")))
        if isinstance(limit.get(name), dict)
    ]
    return f"{_words('limit_quantity', [limit.get('of', '')], language)}: {', '.join(ends)}"
