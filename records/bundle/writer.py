"""Write signed records as a bundle: a zip that anyone can check with the script that lies in it."""

import hashlib
import json
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from django.db.models import Q

from records.document.signatures import public_key_text
from records.log import FirmTree
from records.models import Firm, LogEntry, SignedRecord, SigningKey, TreeHead
from records.record_files import record_file
from shared.merkle import consistency_proof, inclusion_proof

VERIFIER = Path(__file__).with_name("verify_records.py")
READ_ME = Path(__file__).with_name("README.txt")
SCHEMA = "log-proof/1"
_WHEN = (1980, 1, 1, 0, 0, 0)
"""Of every file in the zip, so that the same records and head give the same bytes."""

Json = dict[str, Any]


class NothingToBundleError(ValueError):
    """No signed record was named."""


def write_bundle(
    firm: Firm, records: Iterable[SignedRecord], out: IO[bytes], withheld: Collection[str] = ()
) -> None:
    """The bundle of these records of the firm, each with its follow-ups; sections that are `withheld` are left
    out, and verify all the same. Raises NothingToBundleError."""
    with ZipFile(out, "w", ZIP_DEFLATED) as archive:
        sums = {}
        for name, data in _files(firm, records, withheld):
            archive.writestr(_info(name), data)
            sums[name] = hashlib.sha256(data).hexdigest()
        listed = "".join(f"{hashed}  {name}\n" for name, hashed in sorted(sums.items()))
        archive.writestr(_info("SHA256SUMS"), listed)


def _files(
    firm: Firm, records: Iterable[SignedRecord], withheld: Collection[str]
) -> Iterator[tuple[str, bytes]]:
    names, treatments = [], set()
    for record in records:
        file = record_file(record)
        file["sections"] = {name: part for name, part in file["sections"].items() if name not in withheld}
        file["salts"] = {name: salt for name, salt in file["salts"].items() if name not in withheld}
        names.append(f"records/{record.treatment.number}-v{record.version}.json")
        treatments.add(record.treatment_id)
        yield names[-1], _as_bytes(file)
    if not names:
        raise NothingToBundleError("no signed record was named")
    yield "log.json", _as_bytes(_log_proof(firm, names, treatments))
    keys = SigningKey.objects.for_firm(firm)
    yield "keys.json", _as_bytes({"keys": {key.digest: public_key_text(bytes(key.public)) for key in keys}})
    yield VERIFIER.name, VERIFIER.read_bytes()
    yield READ_ME.name, READ_ME.read_bytes()


def _log_proof(firm: Firm, names: list[str], treatments: Collection[Any]) -> Json:
    """The newest head, earlier ones with the proof that it keeps them, and each entry with its proof and the
    head that was signed when it came in."""
    heads = TreeHead.objects.for_firm(firm).order_by("-size")
    newest = heads[0]
    tree = FirmTree(firm)
    return {
        "schema": SCHEMA,
        "files": names,
        "head": newest.head,
        "earlier": [
            {"head": head.head, "proof": _consistency(tree, head.size, newest.size)}
            for head in _last_of_each_day(heads[1:].iterator())
        ],
        "entries": list(_entries(firm, tree, newest.size, treatments)),
    }


def _last_of_each_day(heads: Iterable[TreeHead]) -> Iterator[TreeHead]:
    day = None
    for head in heads:
        if head.made_at.date() != day:
            day = head.made_at.date()
            yield head


def _consistency(tree: FirmTree, earlier: int, size: int) -> list[str]:
    return [part.hex() for part in tree.read(lambda full: consistency_proof(earlier, size, full))]


def _entries(firm: Firm, tree: FirmTree, size: int, treatments: Collection[Any]) -> Iterator[Json]:
    of_these = Q(record__treatment__in=treatments) | Q(follow_up__follows__treatment__in=treatments)
    rows = LogEntry.objects.for_firm(firm).filter(of_these, index__lt=size).order_by("index")
    heads = TreeHead.objects.for_firm(firm)
    for entry in rows.select_related("record", "follow_up__follows"):
        signed = entry.record or entry.follow_up
        proof = tree.read(lambda full, index=entry.index: inclusion_proof(index, size, full))  # type: ignore[misc]
        own = heads.filter(size=entry.index + 1).first()
        stated = {"index": entry.index, "digest": signed.digest, "proof": [part.hex() for part in proof]}
        yield {**stated, "head": own.head} if own else stated


def _as_bytes(value: Json) -> bytes:
    return json.dumps(value, ensure_ascii=False, indent=1, sort_keys=True).encode() + b"\n"


def _info(name: str) -> ZipInfo:
    info = ZipInfo(name, _WHEN)
    info.compress_type = ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    return info
