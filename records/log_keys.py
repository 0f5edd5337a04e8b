"""Which of a firm's keys may have signed at which place of its log."""

from collections.abc import Iterator, Mapping
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from records.document.faults import Fault
from records.document.key_change import fault_of_change
from records.document.signatures import judged_signatures
from records.models import Firm, KeyChange, SigningKey

Json = Mapping[str, Any]


class KeysInForce:
    """The key in force goes through the log with whoever reads it; only a change that is entered there, and
    holds, puts another in its place."""

    def __init__(self, firm: Firm) -> None:
        self._log = str(firm.pk)
        rows = list(SigningKey.objects.for_firm(firm).select_related("introduced").order_by("made_at"))
        first = [row.digest for row in rows if not hasattr(row, "introduced")]
        self.keys = {row.digest: Ed25519PublicKey.from_public_bytes(bytes(row.public)) for row in rows}
        self.in_force = first[0] if first else ""
        self._not_introduced = first[1:]

    def faults_of(self, signed: Json) -> Iterator[Fault]:
        """What is wrong with the signatures of what stands at this place."""
        for _path, fault in judged_signatures(signed, self.keys):
            if fault:
                yield fault
        for one in signed.get("signatures") or []:
            key = one.get("key")
            if key in self.keys and key != self.in_force:
                yield Fault("", "log/key_not_in_force", {"key": key})

    def take(self, row: KeyChange, stated: Json) -> Iterator[Fault]:
        """What is wrong with a change of the key; one that holds puts the new key in force."""
        told = {"key": row.key.digest, "replaces": row.replaces.digest, "lost": row.lost}
        fault = fault_of_change(stated, self._log, self.in_force, self.keys)
        if fault is None and any(stated.get(name) != value for name, value in told.items()):
            fault = Fault("", "log/key_change_other")
        if fault:
            yield fault
        else:
            self.in_force = row.key.digest

    def never_introduced(self) -> Iterator[Fault]:
        """Keys of the firm that nothing in the log introduces."""
        for key in self._not_introduced:
            yield Fault("", "log/key_not_introduced", {"key": key})
