"""What a record file proves, one thing at a time: signatures, sections, check, entry, follow-ups."""

from collections.abc import Iterator, Mapping
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from records.document.device_seal import read_device_key, seal_holds
from records.document.faults import Fault
from records.document.key_change import forks_of, keys_led_to
from records.document.places import Places
from records.document.proven import Proof
from records.document.reader import moved
from records.document.signatures import judged_signatures, key_digest, read_public_key
from records.document.signed_record import judged_sections, record_digest
from records.document.signers import after_their_keys, words_of_signers
from records.document.types import DOCUMENT_SCHEMA
from records.document.words import WORD_LISTS
from shared.base64url import bytes_of
from shared.canonical import NotCanonicalError, canonical_bytes
from shared.digests import digest

Json = Mapping[str, Any]
Keys = Mapping[str, Ed25519PublicKey]


def proofs_of(file: Json, trusted: str | None = None) -> list[Proof]:
    """Everything that can be verified in a record file whose shape was read (`load_record_file`).

    `trusted` is the digest of the key that may have signed, with those to which changes of key lead from it;
    without it every key of the file may.
    """
    known, proofs = _keys(file.get("keys") or {})
    changes = file.get("key_changes") or []
    proofs += [Proof(fault.path, fault) for fault in forks_of(changes, known)]
    firms = known if trusted is None else keys_led_to(trusted, changes, known)
    keys = {name: key for name, key in known.items() if name in firms}
    record, places = file["record"], Places(file, keys, known)
    proofs += [Proof(fault.path, fault) for fault in places.faults]
    proofs += _signatures(record, keys, "record") if file.get("keys") else [_unverified()]
    proofs += words_of_signers(record, places, "record")
    proofs += [] if places.brought else after_their_keys(file, known)
    proofs += [Proof(path, fault) for path, fault in _sections(file)]
    proofs += [
        Proof(f"sections.{name}", withheld=True)
        for name in record["sections"]
        if name not in file["sections"]
    ]
    proofs += [*_check(file), *_entry(file, places), *_later(file), *_seal(file)]
    follow_ups = file.get("follow_ups") or []
    for index, follow_up in enumerate(follow_ups):
        path = f"follow_ups[{index}]"
        proofs += _follow_up(follow_up, file, keys, path)
        proofs += words_of_signers(follow_up, places, path)
        proofs += [Proof(path, Fault(path, "signed/twice"))] if follow_up in follow_ups[:index] else []
    return proofs if trusted is None else [_by_another_key(proof) for proof in proofs]


def _by_another_key(proof: Proof) -> Proof:
    """One key was named: what another signed may be the firm's all the same, by a key that it had before."""
    if proof.fault and proof.fault.wording == "signed/unknown_key":
        return Proof(proof.path, Fault(proof.fault.path, "signed/other_key"))
    return proof


def _keys(given: Json) -> tuple[dict[str, Ed25519PublicKey], list[Proof]]:
    """The keys that are what their digests say, and the faults of those that are not."""
    keys, proofs = {}, []
    for name, text in given.items():
        try:
            key = read_public_key(text)
        except ValueError:
            key = None
        if key is None or key_digest(key) != name:
            proofs.append(Proof(f"keys.{name}", Fault(f"keys.{name}", "signed/not_a_key")))
        else:
            keys[name] = key
    return keys, proofs


def _unverified() -> Proof:
    return Proof("record.signatures", Fault("record.signatures", "signed/no_keys"))


def _signatures(signed: Json, keys: Keys, prefix: str) -> list[Proof]:
    return [
        Proof(f"{prefix}.{path}", fault and moved(fault, prefix))
        for path, fault in judged_signatures(signed, keys)
    ]


def _sections(file: Json) -> list[tuple[str, Fault | None]]:
    return judged_sections(file["record"]["sections"], file["sections"], file["salts"])


def _check(file: Json) -> Iterator[Proof]:
    check, bound = file.get("check"), file["record"].get("check")
    if check is None:
        if bound is not None:
            yield Proof("check", withheld=True)
        return
    signed = isinstance(bound, Mapping) and bound.get("digest") == _digest_of(check)
    yield Proof("check", None if signed else Fault("check", "signed/check_changed"))


def _digest_of(value: object) -> str | None:
    try:
        return digest(canonical_bytes(value))
    except NotCanonicalError:
        return None


def _entry(file: Json, places: Places) -> Iterator[Proof]:
    """Whether what the server adds agrees with what was signed, and whether the log holds that; when it came in
    and where its proof lies are stated alone."""
    stated, entry = file["record"]["record"], file.get("entry") or {}
    if entry.get("kind") is not None:
        kinds = _kinds(file["record"])
        said = {"said": WORD_LISTS["record_kind"][kinds[0]]}
        agrees = entry["kind"] in kinds
        fault = None if agrees else Fault("entry.kind", "signed/other_kind", said)
        yield Proof("entry.kind", fault, stated=agrees and not places.has("record"))
    if entry.get("reason") is not None:
        agrees = entry["reason"] == stated.get("reason")
        yield Proof("entry.reason", None if agrees else Fault("entry.reason", "signed/other_reason"))
    yield from (Proof(f"entry.{name}", stated=True) for name in ("received_at", "proof") if entry.get(name))


def _kinds(record: Json) -> list[str]:
    """As what it may have been signed: what its signatures mean, where that is a kind; else what fits a version
    that replaces another, or a first one."""
    signatures = record.get("signatures")
    meanings = [one.get("meaning") for one in signatures or [] if isinstance(one, Mapping)]
    if meant := [str(one) for one in meanings if one in WORD_LISTS["record_kind"]]:
        return meant
    return ["corrected", "void"] if record["record"].get("replaces") else ["signed"]


def _later(file: Json) -> Iterator[Proof]:
    """What is said to have happened since: a later version can only be later, and nobody signed that here."""
    if later := file.get("superseded_by"):
        version = file["record"]["record"].get("version") or 1
        holds = (later.get("version") or 0) > version
        fault = Fault("superseded_by.version", "signed/not_later", {"version": str(version)})
        yield Proof("superseded_by", None if holds else fault, stated=holds)
    if file.get("erased"):
        yield Proof("erased", stated=True)


def _seal(file: Json) -> Iterator[Proof]:
    """What its signer sealed on a device: the key signed it, and it names this record and this document."""
    if (seal := file.get("seal")) is None:
        return
    stated = seal.get("statement")
    try:
        public, signed = read_device_key(bytes_of(seal.get("public"))), canonical_bytes(stated)
    except (ValueError, NotCanonicalError):
        yield Proof("seal", Fault("seal", "signed/broken_seal"))
        return
    holds = isinstance(stated, Mapping) and seal_holds(public, signed, seal.get("value"))
    yield Proof("seal", None if holds else Fault("seal", "signed/broken_seal"))
    if holds:
        yield _sealed(stated, file)


def _sealed(stated: Json, file: Json) -> Proof:
    record, path = file["record"], "seal.statement"
    names = [each.get("by") for each in record["signatures"]]
    of_it = stated.get("treatment") == record["record"].get("id") and stated.get("by") in names
    whole = record["sections"].keys() == file["sections"].keys()
    document = {"schema": DOCUMENT_SCHEMA, **file["sections"], "record": record["record"]}
    if not of_it or (whole and stated.get("document") != _digest_of(document)):
        return Proof(path, Fault(path, "signed/other_seal"))
    return Proof(path, withheld=not whole)


def _follow_up(follow_up: Json, file: Json, keys: Keys, prefix: str) -> Iterator[Proof]:
    if not _follows(follow_up.get("follows") or {}, file["record"]):
        yield Proof(prefix, Fault(f"{prefix}.follows", "signed/other_record"))
    elif file.get("keys"):
        yield from _signatures(follow_up, keys, prefix)


def _follows(follows: Json, record: Json) -> bool:
    """By the record's id, which all its versions share; by this version's digest where it has none."""
    identity = record["record"].get("id")
    if identity is None:
        return bool(follows.get("digest") == record_digest(record))
    return bool(follows.get("id") == identity)
