"""What a bundle says of the firm's log, written piece by piece: its heads, and where each thing stands."""

import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from records.bundle.around import proof_pages
from records.bundle.entered import Entered, batched, erasures_of, key_changes_of
from records.log import FirmTree
from records.models import Firm, LogEntry, TreeHead
from shared.merkle import FullSubtree, Hash, consistency_proof, inclusion_proof

SCHEMA = "log-proof/1"
Json = dict[str, Any]


@dataclass
class LogProof:
    """The newest head, earlier ones with the proof that it keeps them, and each entry with its proof and the
    head that was signed when it came in; `no_record` where it is meant to have none. `told` are the sizes of
    the heads that were written so far."""

    firm: Firm
    newest: TreeHead
    entered: list[Entered]
    treatments: list[UUID]
    no_record: bool = False

    def __post_init__(self) -> None:
        self.told = [self.newest.size]

    def pieces(self, names: Iterable[str]) -> Iterator[bytes]:
        """`log.json`, one item of a list in a line: it may be of a hundred thousand entries."""
        size = self.newest.size
        parts: dict[str, Iterable[Any]] = {
            "files": names,
            "earlier": self._earlier(),
            "key_changes": _stated(self.firm, size, key_changes_of(self.firm)),
            "erasures": _stated(self.firm, size, erasures_of(self.firm, self.treatments)),
            "entries": self._proven(),
        }
        whole = {"schema": SCHEMA, "proof_pages": proof_pages(), "head": self.newest.head}
        whole |= {"no_record": True} if self.no_record else {}
        yield b"{\n" + b",\n".join(f"{_json(name)}: {_json(value)}".encode() for name, value in whole.items())
        for name, items in parts.items():
            yield f",\n{_json(name)}: [".encode()
            before = "\n"
            for item in items:
                yield f"{before}{_json(item)}".encode()
                before = ",\n"
            yield b"\n]"
        yield b"\n}\n"

    def _earlier(self) -> Iterator[Json]:
        tree, newest = FirmTree(self.firm), self.newest
        heads = TreeHead.objects.for_firm(self.firm).filter(size__lt=newest.size).order_by("-size")
        for head in _last_of_each_day(heads.iterator()):
            self.told.append(head.size)
            yield {"head": head.head, "proof": _consistency(tree, head.size, newest.size)}

    def _proven(self) -> Iterator[Json]:
        for some in batched(self.entered):
            tree = FirmTree(self.firm)
            heads = TreeHead.objects.for_firm(self.firm).filter(size__in=[one.index + 1 for one in some])
            own = dict(heads.values_list("size", "head"))
            for one in some:
                proof = _inclusion(tree, one.index, self.newest.size)
                stated = {"index": one.index, "digest": one.digest, "proof": proof}
                yield {**stated, "head": own[one.index + 1]} if one.index + 1 in own else stated


def _stated(firm: Firm, size: int, entries: Iterable[LogEntry]) -> Iterator[Json]:
    """What was entered that is no record, each whole and with its proof."""
    tree = FirmTree(firm)
    for entry in entries:
        if entry.index < size:
            statement = json.loads(bytes(entry.signed.record))
            yield {"index": entry.index, "statement": statement, "proof": _inclusion(tree, entry.index, size)}


def _last_of_each_day(heads: Iterable[TreeHead]) -> Iterator[TreeHead]:
    day = None
    for head in heads:
        if head.made_at.date() != day:
            day = head.made_at.date()
            yield head


def _consistency(tree: FirmTree, earlier: int, size: int) -> list[str]:
    return _proof(tree, lambda full: consistency_proof(earlier, size, full))


def _inclusion(tree: FirmTree, index: int, size: int) -> list[str]:
    return _proof(tree, lambda full: inclusion_proof(index, size, full))


def _proof(tree: FirmTree, compute: Callable[[FullSubtree], list[Hash]]) -> list[str]:
    """Nothing where the log has lost what the proof is made of: the bundle then fails its check."""
    try:
        return [part.hex() for part in tree.read(compute)]
    except KeyError:
        return []


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True)
