"""The `log` of a record file: where the firm's log has its record, follow-ups and changes of key, under a head.

A leaf is over all of a signed thing, its signatures too. So what no signature covers (who signed, as what,
when, meaning what) is bound by the place in the log; and a key counts only where the log had it in force.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from records.document.faults import Fault
from records.document.key_change import holds_by_itself
from records.document.signatures import judged_signatures
from records.document.tree_head import TREE_HEAD_SCHEMA
from shared.canonical import NotCanonicalError, canonical_bytes
from shared.digests import digest
from shared.merkle import includes, leaf_hash

Json = Mapping[str, Any]
Keys = Mapping[str, Ed25519PublicKey]
_NOT_THAT = (ValueError, TypeError, KeyError, AttributeError, NotCanonicalError)
"""What reading raises where something else stands there."""


class Places:
    """What holds of the `log` that a file brought, if it did: `faults`, and who lies where."""

    def __init__(self, file: Json, keys: Keys, known: Keys) -> None:
        """`keys` are those that count, `known` all that came along: a key ends by any change that holds."""
        self._known = known
        self.brought = file.get("log") is not None
        self.faults: list[Fault] = []
        self._found: dict[str, int] = {}
        if self.brought:
            self.faults = list(self._looked_at(file, keys))

    def has(self, path: str) -> bool:
        """Whether what stands at this path of the file lies in the log, byte for byte."""
        return not self.faults and path in self._found

    def _looked_at(self, file: Json, keys: Keys) -> Iterator[Fault]:
        try:
            size, root, signed_with = _head(file["log"]["head"], keys)
        except _NOT_THAT:
            yield Fault("log.head", "signed/broken_head")
            return
        changes = {f"key_changes[{place}]": one for place, one in enumerate(file.get("key_changes") or [])}
        signed = {f"follow_ups[{place}]": one for place, one in enumerate(file.get("follow_ups") or [])}
        signed["record"] = file["record"]
        for path, thing in [*changes.items(), *signed.items()]:
            try:
                self._found[path] = _index(thing, file["log"]["entries"], size, root)
            except _NOT_THAT:
                yield Fault(path, "signed/not_in_the_log")
        introduced, replaced = {}, {}
        for path, change in changes.items():
            if path in self._found and holds_by_itself(change, self._known):
                introduced[change.get("key")] = replaced[change.get("replaces")] = self._found[path]
        uses = [("log.head", size - 1, signed_with)]
        uses += [
            (path, self._found[path], one.get("key"))
            for path, thing in signed.items()
            if path in self._found
            for one in thing.get("signatures") or []
        ]
        for path, index, key in uses:
            if not introduced.get(key, 0) <= index < replaced.get(key, size):
                yield Fault(path, "log/key_not_in_force", {"key": str(key)})


def _head(head: Json, keys: Keys) -> tuple[int, bytes, str]:
    """Size, root and key of a head that one of the keys has signed. Raises one of _NOT_THAT."""
    if head["schema"] != TREE_HEAD_SCHEMA or any(fault for _path, fault in judged_signatures(head, keys)):
        raise ValueError("no signed head")
    return int(head["size"]), _hash(head["root"].removeprefix("sha256:")), head["signatures"][0]["key"]


def _index(thing: Json, entries: list[Json], size: int, root: bytes) -> int:
    """Where it lies. Raises one of _NOT_THAT where it does not."""
    data = canonical_bytes(thing)
    entry = next((one for one in entries if one["digest"] == digest(data)), None)
    if entry is None or type(entry["index"]) is not int:
        raise ValueError("no place is named")
    if not includes(leaf_hash(data), entry["index"], size, [_hash(part) for part in entry["proof"]], root):
        raise ValueError("it does not lie there")
    return int(entry["index"])


def _hash(text: str) -> bytes:
    found = bytes.fromhex(text)
    if len(found) != len(digest(b"")[len("sha256:") :]) // 2:
        raise ValueError("no SHA-256")
    return found
