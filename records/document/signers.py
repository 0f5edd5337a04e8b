"""What a record file says of who signed, beside the signature itself."""

from collections.abc import Iterator, Mapping
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from records.document.faults import Fault
from records.document.key_change import ends_of_keys
from records.document.places import Places
from records.document.proven import Proof
from shared.times import read_time

Json = Mapping[str, Any]
Keys = Mapping[str, Ed25519PublicKey]
_WORDS = ("by", "role", "meaning", "claimed_at", "device_at")


def words_of_signers(signed: Json, places: Places, prefix: str) -> Iterator[Proof]:
    """Who signed, as what, when and meaning what: no signature covers its own words, the log's leaf does."""
    for path, one in _signatures(signed, prefix):
        for name in _WORDS:
            if one.get(name) is not None:
                yield Proof(f"{path}.{name}", stated=not places.has(prefix))


def after_their_keys(file: Json, keys: Keys) -> Iterator[Proof]:
    """Where no place in the log tells: what says to have been signed after its key was replaced."""
    replaced = ends_of_keys(file.get("key_changes") or [], keys)
    follow_ups = {f"follow_ups[{index}]": one for index, one in enumerate(file.get("follow_ups") or [])}
    for prefix, signed in {"record": file["record"], **follow_ups}.items():
        for path, one in _signatures(signed, prefix):
            end = replaced.get(str(one.get("key")))
            if end and _is_after(one.get("claimed_at"), end):
                fault = Fault(f"{path}.claimed_at", "signed/after_its_key", {"end": end})
                yield Proof(fault.path, fault)


def _signatures(signed: Json, prefix: str) -> Iterator[tuple[str, Json]]:
    given = signed.get("signatures")
    for index, one in enumerate(given if isinstance(given, list) else []):
        if isinstance(one, Mapping):
            yield f"{prefix}.signatures[{index}]", one


def _is_after(said: object, end: str) -> bool:
    try:
        return read_time(str(said)) > read_time(end)
    except ValueError:
        return False
