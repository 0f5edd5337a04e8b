"""Small packs of invented law for an invented place, judged over a patched base document."""

from typing import Any

from compliance.check import Check, check_document
from compliance.facts_reader import VOCABULARY
from compliance.rulebook.finding import Finding
from compliance.rulebook.pack import Pack, read_pack
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.patched import load, patched

PLACE = "us-wa"
TEXT = {"en": "text", "es": "texto"}
RULE = {
    "title": {"en": "Title", "es": "Título"},
    "reason": {"en": "Reason.", "es": "Motivo."},
    "source": "act",
    "cite": "Example Act 1(a)",
    "text": "found",
    "level": "required",
    "stage": "during",
}
WIND = {"id": "xx/wind", "kind": "limit", "quantity": "wind_speed", "max": "10 mph"}
HEAD: dict[str, Any] = {
    "pack": "xx",
    "version": "1",
    "place": PLACE,
    "authority": {"en": "An invented office", "es": "Una oficina inventada"},
    "title": {"en": "Invented law", "es": "Ley inventada"},
    "caution": {"en": "Help, not legal advice.", "es": "Ayuda, no asesoramiento legal."},
    "reviewed": {"on": "2026-11-25", "by_means": "read"},
    "sources": {"act": {"cite": "Example Act", "title": "An act", "read": "all"}},
    "questions": {
        "xx/question/roofs": {
            "asks": {"en": "Is a roof land?", "es": "¿Es un tejado un terreno?"},
            "hangs_on_it": TEXT,
            "ask_whom": {"en": "the office", "es": "la oficina"},
            "answers": ["yes", "no"],
        }
    },
}


def rule(**keys: Any) -> dict[str, Any]:
    """A rule of plain data with everything that a rule must have; a key set to None is left out."""
    named = {key.replace("until_", "until").replace("from_", "from"): value for key, value in keys.items()}
    return {key: value for key, value in {**RULE, "id": "xx/rule", **named}.items() if value is not None}


def pack(*rules: dict[str, Any], layer: str = "law", **head: Any) -> Pack:
    """A pack of these rules."""
    raw = {key: value for key, value in {**HEAD, **head}.items() if value is not None}
    return read_pack(raw, {"topic": {"rules": list(rules)}}, VOCABULARY, layer)


COUNTRY = read_pack({**HEAD, "pack": "us", "place": "us", "questions": {}}, {}, VOCABULARY, "law")
"""The country's own pack, which has no rules, so that the invented state's law is all that there is."""


def check(
    *rules: dict[str, Any],
    changes: dict[str, Any] | None = None,
    context: dict[str, Any] | None = None,
    policy: Pack | None = None,
    **head: Any,
) -> Check:
    """The check of the roof in September, patched, by one invented pack."""
    here = {"site.jurisdictions": [PLACE]}
    document = patched(load("facts/roof-in-september.json"), {**here, **(changes or {})})
    given = patched(load("facts/roof-in-september.context.json"), context or {})
    packs = [COUNTRY, pack(*rules, **head)]
    return check_document(read(document), read_context(given), None, packs, policy)


def findings(one: dict[str, Any], **given: Any) -> list[Finding]:
    """What one rule says."""
    return [finding for finding in check(one, **given).findings if finding.pack == "xx"]


def finding(one: dict[str, Any], **given: Any) -> Finding:
    """The only finding of one rule."""
    (only,) = findings(one, **given)
    return only


def outcome(one: dict[str, Any], **given: Any) -> str:
    """The outcome of the only finding of one rule."""
    return str(finding(one, **given).outcome)
