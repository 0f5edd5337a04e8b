"""Look at a firm's log of many signed treatments, set against bare SHA-256 over the same stored bytes; and
enter into it, set against a bare insert of the same bytes; a program.

`python -m benchmarks.log_at_scale 100000` prints one JSON line, microseconds for one record: of processor for
the look and its parts (`whole` has all, also the signed heads), of the clock for entering, with its commit.
"""

import json
import secrets
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from hashlib import sha256
from itertools import islice
from time import perf_counter, process_time
from typing import Any
from unittest.mock import patch

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection, transaction  # noqa: E402

from records import log_check, log_keys  # noqa: E402
from records.document.section_lines import lines_of  # noqa: E402
from records.document.signatures import judged_signatures, with_signature  # noqa: E402
from records.document.tree_head import tree_head  # noqa: E402
from records.log_found import Looked  # noqa: E402
from records.log_rows import RecordEntry  # noqa: E402
from records.models import Firm, LogEntry, LogNode, SignedRecord, Treatment, TreeHead  # noqa: E402
from records.services import log  # noqa: E402
from records.services.keys import signing_key  # noqa: E402
from shared import clock  # noqa: E402
from shared.canonical import canonical_bytes  # noqa: E402
from shared.digests import digest  # noqa: E402
from shared.merkle import GrowingTree, leaf_hash  # noqa: E402
from tests.compliance.patched import load  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.kill_at_random import sign  # noqa: E402
from tests.faults.recheck_at_scale import DOCUMENTS, another  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402

BATCH = 1000
ENTERED = 500
NO_CHECKS = {"log/check_gone"}
"""What a look says of this register alone: it is made without the checks that its records name."""
SIGNED = {"by": "R. Osei", "role": "crew", "meaning": "signed", "claimed_at": "2026-09-15T09:00:00-07:00"}


def example_lines(name: str) -> bytes:
    sections = {key: value for key, value in load(f"documents/{name}.json").items() if key != "record"}
    return lines_of(sections, {name: secrets.token_hex(16) for name in sections})


def told(looked: Looked) -> set[str]:
    return {one.fault.wording for one in looked.broken}


class Multiplied:
    """Of one signed treatment so many that state the examples, each with its entry and a head."""

    def __init__(self, first: SignedRecord) -> None:
        self.first, self.firm = first, first.firm
        self.private = signing_key(self.firm)[1]
        self.tree = GrowingTree()
        self.tree.add(leaf_hash(bytes(first.record)))
        self.examples = [example_lines(name) for name in DOCUMENTS]

    def record(self, number: int) -> SignedRecord:
        treatment = another(self.first.treatment, number=f"N-{number}")
        lines = self.examples[number % len(self.examples)]
        stated = {
            "schema": "signed-record/1",
            "record": {
                "id": str(treatment.pk),
                "number": treatment.number,
                "version": 1,
                "entered_by": "R. Osei",
            },
            "sections": {json.loads(line)[0]: digest(line) for line in lines.split(b"\n")},
            "answers": [],
            "check": {"digest": digest(b"check"), "context_digest": digest(b"context")},
        }
        data = canonical_bytes(with_signature(stated, self.private, **SIGNED))
        return another(
            self.first, treatment=treatment, record=data, digest=digest(data), section_lines=lines,
            received_at=clock.now(),
        )  # fmt: skip

    @transaction.atomic
    def add(self, many: int) -> None:
        records = [self.record(self.tree.size + number) for number in range(many)]
        Treatment.across_firms.bulk_create(record.treatment for record in records)
        SignedRecord.across_firms.bulk_create(records)
        rows: dict[type, list[Any]] = {LogEntry: [], LogNode: [], TreeHead: []}
        for record in records:
            for row in self.enter(record):
                rows[type(row)].append(row)
        for model, made in rows.items():
            model.across_firms.bulk_create(made)

    def enter(self, record: SignedRecord) -> Iterator[Any]:
        leaf, index = leaf_hash(bytes(record.record)), self.tree.size
        yield LogEntry(firm=self.firm, index=index, leaf=leaf, record=record, received_at=record.received_at)
        for level, place, hashed in self.tree.add(leaf)[1:]:
            yield LogNode(firm=self.firm, level=level, place=place, hash=hashed)
        head = tree_head(str(self.firm.pk), self.tree.size, self.tree.root, record.received_at, self.private)
        yield TreeHead(firm=self.firm, size=self.tree.size, head=head, made_at=record.received_at)


class Stopwatch:
    """Seconds of processor for each part of a look, a thousand entries at a time, so that the machine's mood
    falls on all of them alike."""

    def __init__(self) -> None:
        self.took: Counter[str] = Counter()

    def time(self, name: str, act: Callable[..., Any], *args: Any) -> Any:
        start = process_time()
        found = act(*args)
        self.took[name] += process_time() - start
        return found

    def look_at(self, firm: Firm, many: int) -> dict[str, float]:
        looked = self.time("whole", log_check.look_at_log, firm)
        assert (told(looked), looked.entries, looked.heads) == (NO_CHECKS, many, many)
        look = log_check._Look(firm, None)
        read_nodes = look._rows.nodes
        entries = look._rows.entries()
        with (
            patch.object(look._rows, "nodes", lambda places: self.time("nodes", read_nodes, places)),
            patch.object(log_keys, "judged_signatures", lambda *_: ()),
        ):
            while batch := self.time("reading", lambda: list(islice(entries, BATCH))):
                self.time("look", lambda each: [look._entry(entry) for entry in each], batch)
                self.beside(batch, look._keys.keys)
        assert look._looked.broken == []
        self.took["reading"] += self.took["nodes"]
        self.took["look"] -= self.took.pop("nodes")
        return {name: took / many * 1e6 for name, took in self.took.items()}

    def beside(self, batch: list[RecordEntry], keys: dict[str, Any]) -> None:
        """Bare SHA-256 over the same bytes, record and sections each at once, and line by line; and the
        signatures."""
        stored = [(bytes(entry.data), bytes(entry.lines)) for entry in batch]
        lines = [part for record, sections in stored for part in (record, *sections.split(b"\n"))]
        self.time("bare", lambda: [(sha256(one).digest(), sha256(other).digest()) for one, other in stored])
        self.time("bare_by_line", lambda: [sha256(part).digest() for part in lines])
        stated = [json.loads(record) for record, _sections in stored]
        self.time("signatures", lambda: [judged_signatures(each, keys) for each in stated])


def entered(multiplied: Multiplied) -> dict[str, float]:
    """Keep and enter a signed record, and put the same bytes into a bare table, each with its commit."""
    with connection.cursor() as cursor:
        kind = "bytea" if connection.vendor == "postgresql" else "blob"
        cursor.execute(f"CREATE TABLE bare (record {kind}, section_lines {kind})")
    records = [multiplied.record(multiplied.tree.size + number) for number in range(ENTERED)]
    Treatment.across_firms.bulk_create(record.treatment for record in records)
    took = {"append": 0.0, "bare_insert": 0.0}
    for record in records:
        start = perf_counter()
        with transaction.atomic():
            record.save(force_insert=True)
            log.append(multiplied.firm, record, multiplied.private)
        between = perf_counter()
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("INSERT INTO bare VALUES (%s, %s)", [record.record, record.section_lines])
        took["append"] += between - start
        took["bare_insert"] += perf_counter() - between
    return {name: each / ENTERED * 1e6 for name, each in took.items()}


def main() -> None:
    many = int(sys.argv[1])
    call_command("migrate", verbosity=0)
    sign(planned(MembershipFactory()))
    multiplied = Multiplied(SignedRecord.across_firms.get())
    while left := many - multiplied.tree.size:
        multiplied.add(min(BATCH, left))
    firm = multiplied.firm
    found = {**Stopwatch().look_at(firm, many), **entered(multiplied)}
    assert told(log_check.look_at_log(firm)) == NO_CHECKS
    sys.stdout.write(
        json.dumps({"records": many, **{name: round(each, 1) for name, each in found.items()}}) + "\n"
    )


if __name__ == "__main__":
    main()
