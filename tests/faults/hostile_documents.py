"""Treatment documents and contexts that somebody made to hang, crash or fill the machine; and real ones with
bytes or values changed. What is read all the same is checked, and everything that the check says is said."""

import json
import random
import re
from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from compliance.check import check_document
from records.document.context import read_context
from records.document.faults import DocumentFaults, Fault
from records.document.reader import read
from tests.compliance.patched import load
from tests.compliance.rulebook.situations import named, places_of, replaced
from tests.faults.hostile_packs import change_bytes

EXAMPLE, CONTEXT = load("documents/example.json"), load("documents/example-context.json")
SIZE = 900_000
ALIENS: tuple[Any, ...] = (
    None, True, 0, -1, 10**400, 1.5, "", "x", "\u0000", "\u202e", [], {}, [None], [[]], {"": None}, "9" * 400,
    {"value": "1e999999999", "unit": "gal"}, {"value": "9" * 12, "unit": "acre"}, {"value": "0", "unit": "mph"},
    "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00", "2026-02-29T00:00:00Z", "9999-12-31",
    "0001-01-01", "../../etc/passwd", "{0.__class__}", ["x"] * 501,
)  # fmt: skip


EXTREMES = {
    r"\d{4}-\d{2}-\d{2}": ("0001-01-01", "9999-12-31", "2024-02-29"),
    r"\d{4}-\d{2}-\d{2}T.*": (
        "0001-01-01T14:00:00+14:00",
        "9999-12-31T11:59:59-12:00",
        "2026-11-01T01:30:00-07:00",
    ),
    r"-?\d+(\.\d+)?": ("0", "999999999999.999999999", "0.000000001", "-999999999999"),
}


class Refused(ValueError):
    """The faults of a document, said as one."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__(str(len(faults)))
        self.faults = faults

    def say(self, language: str) -> str:
        return max((fault.say(language) for fault in self.faults), key=len)


OWN_ERRORS = (Refused,)


def texts() -> Iterator[tuple[str, bytes]]:
    yield "nothing", b""
    yield "no JSON", b"treatment"
    yield "a list", b"[]"
    yield "a text", b'"x"'
    yield "deep lists", b'{"notes": ' + b"[" * SIZE
    yield "deep objects", b'{"notes": ' * (SIZE // 10)
    yield "deep and closed", b"[" * 100_000 + b"]" * 100_000
    yield "ten megabytes of notes", json.dumps({**EXAMPLE, "notes": "x" * 10_000_000}).encode()
    yield "notes within bounds", json.dumps({**EXAMPLE, "notes": "x" * SIZE}).encode()
    yield "notes of quotes", json.dumps({**EXAMPLE, "notes": '\\"' * (SIZE // 4)}).encode()
    yield "an open quote", b'{"notes": "' + b"\\\\" * (SIZE // 2)
    yield "a name twice", b'{"schema": "treatment-document/1", "schema": "treatment-document/1"}'
    yield "a name ten thousand times", b"{" + b'"notes": null, ' * 10_000 + b'"notes": null}'
    yield "many unknown names", json.dumps({f"member{number}": None for number in range(40_000)}).encode()
    yield "a name of great length", json.dumps({"x" * SIZE: None}).encode()
    yield "a giant number", b'{"notes": ' + b"9" * SIZE + b"}"
    yield "a giant exponent", b'{"notes": 1e999999999}'
    yield "a giant negative exponent", b'{"notes": -1e-999999999}'
    yield "no number", b'{"notes": NaN, "targets": Infinity}'
    yield "a list of half a million", b'{"targets": [' + b"0," * (SIZE // 2) + b"0]}"
    yield "a list of a million", b'{"targets": [' + b"0," * 1_000_000 + b"0]}"
    yield "many people", json.dumps({**EXAMPLE, "people": EXAMPLE["people"] * 1000}).encode()
    yield "many names twice", json.dumps({**EXAMPLE, "people": [{"name": "x"}] * 500}).encode()
    yield "many mixes", json.dumps({**EXAMPLE, "mixes": EXAMPLE["mixes"] * 50}).encode()
    yield "not UTF-8", b'{"notes": "\xff\xfe"}'
    yield "UTF-16", json.dumps(EXAMPLE).encode("utf-16")
    yield "a byte order mark", b"\xef\xbb\xbf" + json.dumps(EXAMPLE).encode()
    yield "half a character", b'{"notes": "\\ud800"}'
    yield "a zero byte", b'{"notes": "\x00"}'
    yield "two documents", json.dumps(EXAMPLE).encode() * 2
    yield "brackets in text", json.dumps({**EXAMPLE, "notes": "[" * 19_000}).encode()


def contexts() -> Iterator[tuple[str, bytes]]:
    yield "deep lists", b'{"earlier": ' + b"[" * SIZE
    yield "earlier in earlier", b'{"earlier": [{"earlier": ' * 50
    yield "many earlier ones", json.dumps({"earlier": [EXAMPLE] * 100}).encode()
    yield "too many earlier ones", json.dumps({"earlier": [{}] * 100_000}).encode()
    yield "a giant number", b'{"on": ' + b"9" * SIZE + b"}"


def small() -> Iterator[tuple[str, Callable[[], Any]]]:
    for name, data in texts():
        yield f"document: {name}", partial(checked, data, json.dumps(CONTEXT).encode())
    for name, data in contexts():
        yield f"context: {name}", partial(checked, json.dumps(EXAMPLE).encode(), data)
    for steps, _ in places_of({"document": EXAMPLE}):
        for number, alien in enumerate(ALIENS):
            if (len(steps) + number + len(str(steps))) % 25 == 0:
                changed = replaced({"document": EXAMPLE}, steps, alien)
                yield (
                    f"{'.'.join(map(str, steps))}: {str(alien)[:12]}",
                    partial(as_json, changed["document"], CONTEXT),
                )


def mutated(seed: int, count: int) -> Iterator[tuple[str, Callable[[], Any]]]:
    """Situations with bytes changed, or with values exchanged for others and for aliens."""
    chance = random.Random(seed)
    for number in range(count):
        situation = chance.choice(named())
        parts, name = situation.parts, f"{seed}/{number}: {situation.says}"
        if chance.random() < 0.3:
            document, context = (json.dumps(parts[part]).encode() for part in ("document", "context"))
            yield name, partial(checked, change_bytes(document, chance), context)
            continue
        exchange = chance.choice([within_the_form, within_the_form, by_an_alien])
        for _ in range(chance.choice([1, 1, 2, 5])):
            places = list(places_of(parts))
            steps, value = chance.choice(places)
            if len(steps) > 1:
                parts = replaced(parts, steps, exchange(value, places, chance))
        yield name, partial(as_json, parts["document"], parts["context"])


def by_an_alien(value: Any, places: list[Any], chance: random.Random) -> Any:
    return chance.choice([*ALIENS, chance.choice(places)[1]])


def within_the_form(value: Any, places: list[Any], chance: random.Random) -> Any:
    """Nothing, or an extreme of the same sort: what a reader lets pass and a check must bear."""
    if not isinstance(value, str):
        return (
            None if chance.random() < 0.5 else value * chance.randrange(3) if isinstance(value, list) else value
        )
    for form, extremes in EXTREMES.items():
        if re.fullmatch(form, value):
            return chance.choice(extremes)
    return None


def as_json(document: Any, context: Any) -> object:
    return checked(json.dumps(document).encode(), json.dumps(context).encode())


def checked(document: bytes, context: bytes) -> object:
    """The whole check, as it is stored. Raises Refused."""
    try:
        return check_document(read(document), read_context(context)).stored()
    except DocumentFaults as error:
        raise Refused(error.faults) from None


def warm_up() -> None:
    """Whatever is made once only is made before memory is bound."""
    for situation in named():
        as_json(situation.parts["document"], situation.parts["context"])
