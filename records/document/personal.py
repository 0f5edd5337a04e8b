"""Which sections of a document say something of people, and go when a record is erased after its term.

The decision, section by section: gone is what names a person, an address or a position, or tells in free
words what happened between people. What stays says what was applied, where by law, with what and when: a
firm needs it to know what it used, and it leads to nobody by itself. A section goes whole, since its one
digest binds all of it. What the signed record itself holds can't go without breaking its place in the log:
who signed, reasons, and follow-ups.
"""

from collections.abc import Mapping
from typing import Any

PERSONAL = {
    "customer": "name, address, phone and e-mail",
    "site": "address and position; features may name neighbours",
    "people": "names, addresses, phones, licences, hours",
    "weather": "who read it, by name",
    "protection": "who did each step, notes, photos of somebody's home",
    "notices": "who was told, by name",
    "postings": "where on somebody's ground a sign stood",
    "incidents": "what happened to whom, who was told, photos of it",
    "notes": "free words",
}
STAYS = {
    "schema": "the version of the document",
    "firm": "the business and its licences",
    "timing": "when; terms are counted from it",
    "targets": "against what",
    "surfaces": "kind, material, pitch and area",
    "mixes": "products, labels, lots, amounts",
    "equipment": "the firm's rigs",
    "permits": "which authority, which number",
}


def without_people(document: Mapping[str, Any]) -> dict[str, Any]:
    """A document, or its sections or salts, without the members that go."""
    return {name: value for name, value in document.items() if name not in PERSONAL}
