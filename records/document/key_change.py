"""`key-change/1`: a new key of a firm takes the place of the one before it, signed with both.

Where the old key was lost, the new one signs alone and the statement says so: it then shows that the log goes
on, and not that who held the old key wanted it.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from records.document.faults import Fault
from records.document.signatures import judged_signatures, key_digest, plain_signature, public_key_text
from shared.canonical import NotCanonicalError

KEY_CHANGE_SCHEMA = "key-change/1"


def key_change(
    log: str, replaces: str, at: datetime, new: Ed25519PrivateKey, old: Ed25519PrivateKey | None
) -> dict[str, Any]:
    """The statement that in this log (the firm's id) the key of this digest is replaced; without `old` it is
    lost."""
    public = new.public_key()
    stated = {
        "schema": KEY_CHANGE_SCHEMA,
        "log": log,
        "replaces": replaces,
        "key": key_digest(public),
        "public": public_key_text(public.public_bytes_raw()),
        "lost": old is None,
        "at": at.isoformat(timespec="microseconds"),
    }
    signing = [new] if old is None else [old, new]
    return {**stated, "signatures": [plain_signature(stated, private) for private in signing]}


def fault_of_change(
    stated: Mapping[str, Any], log: str, in_force: str, keys: Mapping[str, Ed25519PublicKey]
) -> Fault | None:
    """The first thing wrong with a change of the key `in_force`: only that key, together with the new one, or
    the new one alone where the old one is said to be lost, may introduce another."""
    introduced = stated.get("key")
    expected = {"schema": KEY_CHANGE_SCHEMA, "log": log, "replaces": in_force}
    if any(stated.get(name) != value for name, value in expected.items()) or introduced == in_force:
        return Fault("", "log/key_change_other")
    public = keys.get(str(introduced))
    if public is None or public_key_text(public.public_bytes_raw()) != stated.get("public"):
        return Fault("", "log/key_change_other")
    if fault := next((fault for _path, fault in judged_signatures(stated, keys) if fault), None):
        return fault
    signed_with = [one["key"] for one in stated["signatures"]]
    wanted = [introduced] if stated.get("lost") is True else [in_force, introduced]
    return None if signed_with == wanted else Fault("", "log/key_change_unsigned")


def keys_led_to(trusted: str, changes: Sequence[object], keys: Mapping[str, Ed25519PublicKey]) -> set[str]:
    """The keys to which changes lead from the one that is trusted: a key vouches for the one before it, and for
    the one after it where it has signed the change."""
    found, grown = {trusted}, True
    holding = [change for change in changes if isinstance(change, Mapping) and holds_by_itself(change, keys)]
    while grown:
        grown = False
        for change in holding:
            old, new = str(change["replaces"]), str(change["key"])
            led_to = {old} if new in found else {new} if old in found and not change["lost"] else set()
            grown = grown or bool(led_to - found)
            found |= led_to
    return found


def forks_of(changes: Sequence[object], keys: Mapping[str, Ed25519PublicKey]) -> list[Fault]:
    """Keys follow one another: of two changes that replace one key, or introduce one, somebody made the other
    who holds what was replaced. Nobody can tell here which, so neither counts."""
    faults, replaced, introduced = [], set(), set()
    for place, change in enumerate(changes):
        if isinstance(change, Mapping) and holds_by_itself(change, keys):
            old, new = str(change["replaces"]), str(change["key"])
            if old in replaced or new in introduced:
                faults.append(Fault(f"key_changes[{place}]", "signed/forked_keys", {"key": old}))
            replaced.add(old)
            introduced.add(new)
    return faults


def ends_of_keys(changes: Sequence[object], keys: Mapping[str, Ed25519PublicKey]) -> dict[str, str]:
    """When each key that was replaced came to its end, as the changes that hold say."""
    holding = [change for change in changes if isinstance(change, Mapping) and holds_by_itself(change, keys)]
    return {str(change["replaces"]): str(change.get("at")) for change in holding}


def holds_by_itself(stated: Mapping[str, Any], keys: Mapping[str, Ed25519PublicKey]) -> bool:
    """Whatever log it is of, and whatever key was in force there."""
    try:
        fault = fault_of_change(stated, str(stated.get("log")), str(stated.get("replaces")), keys)
    except NotCanonicalError:
        return False
    return fault is None and isinstance(stated.get("lost"), bool)
