"""Write signed records as a bundle: a zip that anyone can check with the script that lies in it."""

import hashlib
import json
from collections.abc import Callable, Collection, Iterable, Iterator
from pathlib import Path
from typing import IO, Any
from uuid import UUID
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from records.bundle.around import certificates_of, time_stamps_of
from records.bundle.entered import Entered, batched, entered_in, without_entry
from records.bundle.log_proof import LogProof
from records.bundle.photos import photos_of
from records.document.signatures import public_key_text
from records.models import Firm, SignedRecord, SigningKey, TreeHead
from records.record_files import record_file
from shared.canonical import canonical_bytes
from shared.digests import digest

VERIFIER = Path(__file__).with_name("verify_records.py")
READ_ME = Path(__file__).with_name("README.txt")
RECORDS = "records/"
_WHEN = (1980, 1, 1, 0, 0, 0)
"""Of every file in the zip, so that the same records and head give the same bytes."""
_AT_ONCE = 1 << 20

Json = dict[str, Any]
Content = bytes | Path | Iterator[bytes]
"""What is in a file: its bytes, a file that holds them, or one piece after the other."""


class NothingToBundleError(ValueError):
    """None of the treatments has a signed version that is in the log."""


Beside = Callable[[SignedRecord, Json], Iterable[tuple[str, Content]]]
"""What lies beside a record's data, as names and bytes: made from the data as they go into the bundle."""
After = Callable[[], Iterable[tuple[str, Content]]]
"""What is made once all records are in."""
Noted = Callable[[int, int], None]
"""Told how many versions of how many are in, again and again."""


def nothing_beside(_record: SignedRecord, _file: Json) -> tuple[()]:
    return ()


def nothing_after() -> tuple[()]:
    return ()


def nobody_notes(_done: int, _of_all: int) -> None:
    pass


def newest_head(firm: Firm) -> TreeHead | None:
    return TreeHead.objects.for_firm(firm).order_by("-size").first()


def write_bundle(
    firm: Firm,
    treatments: Iterable[UUID],
    out: IO[bytes],
    withheld: Collection[str] = (),
    beside: Beside = nothing_beside,
    *,
    photos: bool = False,
    head: TreeHead | None = None,
    after: After = nothing_after,
    noted: Noted = nobody_notes,
) -> None:
    """The bundle of these treatments of the firm: each signed version with its follow-ups, as far as `head`
    covers them, else the newest one; sections that are `withheld` are left out, and verify all the same. With
    `photos` the pictures that they name lie in it, too.

    However many they are, it takes about the same memory. Where no treatment is named, with a
    `head` to go by, it says that no record is in it. Raises NothingToBundleError.
    """
    treatments = list(treatments)
    proof = _proof_of(firm, treatments, head)
    everything = [*proof.entered, *without_entry(firm, treatments)]
    around = _with_photos(beside, withheld) if photos else beside
    with ZipFile(out, "w", ZIP_DEFLATED) as archive:
        sums: dict[str, bytes] = {}
        _write(archive, sums, _files(proof, everything, withheld, around, noted))
        _write(archive, sums, after())
        _write(archive, sums, _proving(proof, [name for name in sums if name.startswith(RECORDS)]))
        listed = (f"{hashed.hex()}  {name}\n".encode() for name, hashed in sorted(sums.items()))
        _put(archive, "SHA256SUMS", listed)


def _proof_of(firm: Firm, treatments: list[UUID], head: TreeHead | None) -> LogProof:
    if head and not treatments:
        return LogProof(firm, head, [], [], no_record=True)
    head = head or newest_head(firm)
    entered = sorted(entered_in(firm, head, treatments)) if head else []
    if head is None or not any(one.record for one in entered):
        raise NothingToBundleError("no signed record was named")
    return LogProof(firm, head, entered, treatments)


def _write(archive: ZipFile, sums: dict[str, bytes], files: Iterable[tuple[str, Content]]) -> None:
    """Each once: two versions may name the same photo."""
    for name, content in files:
        if name not in sums:
            sums[name] = _put(archive, name, content)


def _put(archive: ZipFile, name: str, content: Content) -> bytes:
    """Put a file into the zip, a piece at a time; the SHA-256 of its bytes."""
    hashed = hashlib.sha256()
    info = _info(name)
    info.file_size = content.stat().st_size if isinstance(content, Path) else 0
    with archive.open(info, "w") as file:
        for piece in _pieces(content):
            file.write(piece)
            hashed.update(piece)
    return hashed.digest()


def _pieces(content: Content) -> Iterator[bytes]:
    if isinstance(content, bytes):
        yield content
    elif isinstance(content, Path):
        with content.open("rb") as file:
            while piece := file.read(_AT_ONCE):
                yield piece
    else:
        yield from content


def _with_photos(beside: Beside, withheld: Collection[str]) -> Beside:
    def both(record: SignedRecord, file: Json) -> Iterator[tuple[str, Content]]:
        yield from beside(record, file)
        yield from photos_of(record, file, withheld)

    return both


def _files(
    proof: LogProof, entered: list[Entered], withheld: Collection[str], beside: Beside, noted: Noted
) -> Iterator[tuple[str, Content]]:
    follow_ups = {one.digest for one in entered if not one.record}
    of_all, done = sum(bool(one.record) for one in entered), 0
    for some in batched(one.record for one in entered if one.record):
        rows = SignedRecord.objects.for_firm(proof.firm).select_related("firm", "treatment", "proof_address")
        records = rows.in_bulk(some)
        for record in (records[pk] for pk in some if pk in records):
            file = record_file(record, with_log=False, log_size=proof.newest.size)
            file["sections"] = {name: part for name, part in file["sections"].items() if name not in withheld}
            file["salts"] = {name: salt for name, salt in file["salts"].items() if name not in withheld}
            if file["record"]["sections"].keys() - file["sections"].keys():
                file.pop("seal", None)  # its digest has no salt: it would tell a right guess
            file["follow_ups"] = [
                one for one in file["follow_ups"] if digest(canonical_bytes(one)) in follow_ups
            ]
            yield f"{RECORDS}{record.treatment.number}-v{record.version}.json", as_bytes(file)
            yield from beside(record, file)
            done += 1
            noted(done, of_all)


def _proving(proof: LogProof, names: list[str]) -> Iterator[tuple[str, Content]]:
    firm = proof.firm
    yield "log.json", proof.pieces(names)
    yield from time_stamps_of(firm, proof.told)
    keys = SigningKey.objects.for_firm(firm)
    yield "keys.json", as_bytes({"keys": {key.digest: public_key_text(bytes(key.public)) for key in keys}})
    yield from certificates_of(firm)
    yield VERIFIER.name, VERIFIER.read_bytes()
    yield READ_ME.name, READ_ME.read_bytes()


def as_bytes(value: Json) -> bytes:
    return json.dumps(value, ensure_ascii=False, indent=1, sort_keys=True).encode() + b"\n"


def _info(name: str) -> ZipInfo:
    info = ZipInfo(name, _WHEN)
    info.compress_type = ZIP_STORED if name.startswith("photos/") else ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    return info
