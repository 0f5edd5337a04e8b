"""Write signed records as a bundle: a zip that anyone can check with the script that lies in it."""

import hashlib
import json
from collections.abc import Callable, Collection, Iterable, Iterator
from pathlib import Path
from typing import IO, Any
from uuid import UUID
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from records.bundle.around import certificates_of, proof_pages, time_stamps_of
from records.bundle.entered import (
    Entered,
    batched,
    entered_in,
    erasures_of,
    key_changes_of,
    without_entry,
)
from records.bundle.photos import photos_of
from records.document.signatures import public_key_text
from records.log import FirmTree
from records.models import Firm, LogEntry, SignedRecord, SigningKey, TreeHead
from records.record_files import record_file
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.merkle import FullSubtree, Hash, consistency_proof, inclusion_proof

VERIFIER = Path(__file__).with_name("verify_records.py")
READ_ME = Path(__file__).with_name("README.txt")
SCHEMA = "log-proof/1"
RECORDS = "records/"
_WHEN = (1980, 1, 1, 0, 0, 0)
"""Of every file in the zip, so that the same records and head give the same bytes."""

Json = dict[str, Any]


class NothingToBundleError(ValueError):
    """None of the treatments has a signed version that is in the log."""


Beside = Callable[[SignedRecord, Json], Iterable[tuple[str, bytes]]]
"""What lies beside a record's data, as names and bytes: made from the data as they go into the bundle."""


def nothing_beside(_record: SignedRecord, _file: Json) -> tuple[()]:
    return ()


def write_bundle(
    firm: Firm,
    treatments: Iterable[UUID],
    out: IO[bytes],
    withheld: Collection[str] = (),
    beside: Beside = nothing_beside,
    *,
    photos: bool = False,
) -> None:
    """The bundle of these treatments of the firm: each signed version with its follow-ups, as far as the
    newest head covers them; sections that are `withheld` are left out, and verify all the same. With `photos`
    the pictures that they name lie in it, too.

    Raises NothingToBundleError.
    """
    treatments = list(treatments)
    head = TreeHead.objects.for_firm(firm).order_by("-size").first()
    entered = sorted(entered_in(firm, head, treatments)) if head else []
    if head is None or not any(one.record for one in entered):
        raise NothingToBundleError("no signed record was named")
    with ZipFile(out, "w", ZIP_DEFLATED) as archive:
        sums: dict[str, str] = {}
        lost = list(without_entry(firm, treatments))
        around = _with_photos(beside, withheld) if photos else beside
        _write(archive, sums, _files(firm, [*entered, *lost], withheld, around))
        names = [name for name in sums if name.startswith(RECORDS)]
        _write(archive, sums, _proving(firm, names, head, entered, treatments))
        listed = "".join(f"{hashed}  {name}\n" for name, hashed in sorted(sums.items()))
        archive.writestr(_info("SHA256SUMS"), listed)


def _write(archive: ZipFile, sums: dict[str, str], files: Iterable[tuple[str, bytes]]) -> None:
    """Each once: two versions may name the same photo."""
    for name, data in files:
        if name not in sums:
            archive.writestr(_info(name), data)
            sums[name] = hashlib.sha256(data).hexdigest()


def _with_photos(beside: Beside, withheld: Collection[str]) -> Beside:
    def both(record: SignedRecord, file: Json) -> Iterator[tuple[str, bytes]]:
        yield from beside(record, file)
        yield from photos_of(record, file, withheld)

    return both


def _files(
    firm: Firm, entered: list[Entered], withheld: Collection[str], beside: Beside
) -> Iterator[tuple[str, bytes]]:
    digests = {one.digest for one in entered}
    for some in batched(one.record for one in entered if one.record):
        rows = SignedRecord.objects.for_firm(firm).select_related("firm", "treatment", "proof_address")
        records = rows.in_bulk(some)
        for record in (records[pk] for pk in some if pk in records):
            file = record_file(record, with_log=False)
            file["sections"] = {name: part for name, part in file["sections"].items() if name not in withheld}
            file["salts"] = {name: salt for name, salt in file["salts"].items() if name not in withheld}
            if file["record"]["sections"].keys() - file["sections"].keys():
                file.pop("seal", None)  # its digest has no salt: it would tell a right guess
            file["follow_ups"] = [one for one in file["follow_ups"] if digest(canonical_bytes(one)) in digests]
            yield f"{RECORDS}{record.treatment.number}-v{record.version}.json", _as_bytes(file)
            yield from beside(record, file)


def _proving(
    firm: Firm, names: list[str], head: TreeHead, entered: list[Entered], treatments: list[UUID]
) -> Iterator[tuple[str, bytes]]:
    proof = _log_proof(firm, names, head, entered, treatments)
    yield "log.json", _as_bytes(proof)
    yield from time_stamps_of(firm, [proof["head"], *(each["head"] for each in proof["earlier"])])
    keys = SigningKey.objects.for_firm(firm)
    yield "keys.json", _as_bytes({"keys": {key.digest: public_key_text(bytes(key.public)) for key in keys}})
    yield from certificates_of(firm)
    yield VERIFIER.name, VERIFIER.read_bytes()
    yield READ_ME.name, READ_ME.read_bytes()


def _log_proof(
    firm: Firm, names: list[str], newest: TreeHead, entered: list[Entered], treatments: list[UUID]
) -> Json:
    """The newest head, earlier ones with the proof that it keeps them, and each entry with its proof and the
    head that was signed when it came in."""
    earlier = TreeHead.objects.for_firm(firm).filter(size__lt=newest.size).order_by("-size")
    tree = FirmTree(firm)
    return {
        "schema": SCHEMA,
        "files": names,
        "proof_pages": proof_pages(),
        "head": newest.head,
        "earlier": [
            {"head": head.head, "proof": _consistency(tree, head.size, newest.size)}
            for head in _last_of_each_day(earlier.iterator())
        ],
        "key_changes": list(_stated(tree, newest.size, key_changes_of(firm))),
        "erasures": list(_stated(tree, newest.size, erasures_of(firm, treatments))),
        "entries": list(_proven(firm, tree, entered, newest.size)),
    }


def _stated(tree: FirmTree, size: int, entries: Iterable[LogEntry]) -> Iterator[Json]:
    """What was entered that is no record, each whole and with its proof."""
    for entry in entries:
        if entry.index < size:
            statement = json.loads(bytes(entry.signed.record))
            yield {"index": entry.index, "statement": statement, "proof": _inclusion(tree, entry.index, size)}


def _proven(firm: Firm, tree: FirmTree, entered: list[Entered], size: int) -> Iterator[Json]:
    for some in batched(entered):
        heads = TreeHead.objects.for_firm(firm).filter(size__in=[one.index + 1 for one in some])
        own = dict(heads.values_list("size", "head"))
        for one in some:
            stated = {"index": one.index, "digest": one.digest, "proof": _inclusion(tree, one.index, size)}
            yield {**stated, "head": own[one.index + 1]} if one.index + 1 in own else stated


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


def _as_bytes(value: Json) -> bytes:
    return json.dumps(value, ensure_ascii=False, indent=1, sort_keys=True).encode() + b"\n"


def _info(name: str) -> ZipInfo:
    info = ZipInfo(name, _WHEN)
    info.compress_type = ZIP_STORED if name.startswith("photos/") else ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    return info
