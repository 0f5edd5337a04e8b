"""Notices of planned treatments: ordinary, and with long names, accents and four products."""

import json
from datetime import date, datetime
from typing import Any

from compliance.pack_reader import registered_packs
from compliance.papers.notice import NoticeContent, Reader, Terms, content_of
from compliance.rulebook.kinds.notice import Notice
from tests.compliance.papers.samples import FACTS, full

LONG_NAME = "María Fernanda Etxeberria-Goikoetxea y Łukasz Brzęczyszczykiewicz"
LONG_FIRM = (
    "Compañía de Limpieza Exterior Quillfeather & Núñez-Żółkiewska, Sociedad de Responsabilidad Limitada"
)
LONG_ADDRESS = (
    "6789 Northeast Great Heron Row and Harbor View Terrace",
    "Apartment 12-B, second floor, rear entrance",
    "Saint Augustine-by-the-Sea, NY 13900",
)
ALTERNATES = (date(2026, 9, 16), date(2026, 9, 17))
NEIGHBOUR = Reader("neighbour", "B. Lark", ("6 Heron Row", "Port Quill, NY 13900"), 1)
UNTIL = datetime.fromisoformat("2026-09-14T11:00:00-04:00")


def rule_of(name: str) -> tuple[Notice, str]:
    """The kind of a rule of the packs, and its citation."""
    (rule,) = [rule for pack in registered_packs() for rule in pack.rules if rule.id == name]
    kind = rule.all_duties[-1].kind
    assert isinstance(kind, Notice)
    return kind, rule.all_duties[-1].cite


def planned(place: str = "new-york") -> dict[str, Any]:
    """A planned treatment of a roof."""
    return json.loads((FACTS / f"roof-in-{place}.json").read_text())


def crowded() -> dict[str, Any]:
    """Four products, and a firm with a long name and address."""
    document, more = planned(), full()
    document |= {name: more[name] for name in ("mixes", "surfaces", "targets")}
    document["firm"] |= {"name": LONG_FIRM}
    document["firm"]["address"] |= {
        "line1": "12345 Northwest Old Cooper's Lane and Harbor Road Extension",
        "line2": "Building C, Suite 1200, c/o Harbor Management",
    }
    return document


def to_neighbours(
    document: dict[str, Any] | None = None, reader: Reader = NEIGHBOUR, **terms: Any
) -> NoticeContent:
    """The notice that New York asks for."""
    asked = {"contents": rule_of("us-ny/notice/neighbors")[0].contents, "languages": ("en", "es"), "dates": 2}
    return content_of(document or planned(), reader, Terms(**{**asked, **terms}), UNTIL, ALTERNATES)


def crowded_notice() -> NoticeContent:
    """The longest that is to be expected."""
    own = {"en": "We park on the street.", "es": "Estacionamos en la calle."}
    return to_neighbours(crowded(), Reader("neighbour", LONG_NAME, LONG_ADDRESS, 2), own_words=own)
