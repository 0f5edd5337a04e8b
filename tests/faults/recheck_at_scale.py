"""Check a register of many signed treatments again in two processes, and watch the memory; a program.

`python -m tests.faults.recheck_at_scale 10000 100000` prints one JSON line for each number of treatments: the
most memory (in MB) that the process which hands out the work ever had, and how many it checked in a second.
"""

import json
import re
import subprocess
import sys
import time
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connections  # noqa: E402

from compliance.check import check_document  # noqa: E402
from compliance.models import CheckContext, RecheckResult, StoredCheck  # noqa: E402
from compliance.stored_form import compressed  # noqa: E402
from records.document.context import Context  # noqa: E402
from records.document.reader import read  # noqa: E402
from records.document.section_lines import lines_of  # noqa: E402
from records.models import SignedRecord, Treatment  # noqa: E402
from records.selectors import document_of  # noqa: E402
from shared.canonical import canonical_bytes  # noqa: E402
from shared.digests import digest  # noqa: E402
from tests.compliance.patched import load  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.programs import ROOT  # noqa: E402
from tests.faults.recheck_and_die import sign  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402

BATCH = 500
NO_CONTEXT = compressed({})
DOCUMENTS = ("example", "full", "metric", "stood-down")


def another(row: Any, **changed: Any) -> Any:
    """A row like this one, with a key of its own."""
    fields = {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields}
    made = type(row)(**fields | {"uuid": uuid4()})
    for name, value in changed.items():
        setattr(made, name, value)
    return made


def stating(check: StoredCheck, name: str) -> StoredCheck:
    """The check of a signed treatment as if an example document had been signed."""
    sections = {key: value for key, value in load(f"documents/{name}.json").items() if key != "record"}
    lines = lines_of(sections, dict.fromkeys(sections, ""))
    record = another(check.signed_record, treatment=check.treatment, section_lines=lines)
    stored = check_document(read(document_of(record)), Context(), date(2026, 11, 25)).stored()
    body = canonical_bytes(stored)
    made = {"outcome": stored["outcome"], "body": compressed(stored), "digest": digest(body)}
    return another(check, treatment=check.treatment, signed_record=record, **made)


def multiply(many: int) -> None:
    """Make of one signed treatment so many, each with a record that states an example, and its check."""
    there = Treatment.across_firms.count()
    first = StoredCheck.across_firms.earliest("at")
    examples = [stating(first, name) for name in DOCUMENTS]
    while there < many:
        several = [examples[number % len(examples)] for number in range(there, min(there + BATCH, many))]
        there += len(several)
        rows = [another(check.treatment, number=f"N-{uuid4()}") for check in several]
        records = [
            another(check.signed_record, treatment=row, digest=f"sha256:{uuid4()}")
            for check, row in zip(several, rows, strict=True)
        ]
        checks = [
            another(check, treatment=record.treatment, signed_record=record)
            for check, record in zip(several, records, strict=True)
        ]
        Treatment.across_firms.bulk_create(rows)
        SignedRecord.across_firms.bulk_create(records)
        StoredCheck.across_firms.bulk_create(checks)
        CheckContext.across_firms.bulk_create(
            CheckContext(firm=first.firm, check_made=check, body=NO_CONTEXT) for check in checks
        )


def peak(process: int) -> int:
    """The most memory that a process has had so far, in kilobytes; 0 once it has ended."""
    status = Path(f"/proc/{process}/status")
    found = re.search(r"VmHWM:\s+(\d+)", status.read_text()) if status.exists() else None
    return int(found[1]) if found else 0


def checked_again(many: int) -> dict[str, Any]:
    connections.close_all()
    before = RecheckResult.across_firms.count()
    connections.close_all()
    command = [sys.executable, "manage.py", "recheck_treatments", "--skip-checks", "--processes", "2"]
    start, most = time.monotonic(), 0
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as run:
        while run.poll() is None:
            most = max(most, peak(run.pid))
            time.sleep(0.2)
    seconds = time.monotonic() - start
    return {
        "treatments": many,
        "code": run.returncode,
        "checked": RecheckResult.across_firms.count() - before,
        "megabytes": round(most / 1024, 1),
        "a_second": round(many / seconds, 1),
    }


def main() -> None:
    call_command("migrate", verbosity=0)
    sign(planned(MembershipFactory()))
    for many in map(int, sys.argv[1:]):
        multiply(many)
        sys.stdout.write(json.dumps(checked_again(many)) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
