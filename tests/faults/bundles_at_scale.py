"""Make the bundle of few and of many signed records, each in a process of its own, and watch it; a program.

`python -m tests.faults.bundles_at_scale 500 10000` prints one JSON line for each number of records: the most
memory (in MB) that the worker ever had, seconds, how long the matches took to be counted, what the bundle's own
program says of it (its exit code), how many files hold the name that was left out, the pages of the index.
With `--sheets` each has its record sheet.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from pypdf import PdfReader  # noqa: E402

from benchmarks.log_at_scale import BATCH, Multiplied  # noqa: E402
from compliance.models import Handing, RecordsRequest  # noqa: E402
from compliance.request_bundle.folder import file_of  # noqa: E402
from compliance.services.handings import begin  # noqa: E402
from compliance.services.request_matches import signed_matches  # noqa: E402
from records.models import SignedRecord, Treatment  # noqa: E402
from records.register_search import counted  # noqa: E402
from shared import clock  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.kill_at_random import sign  # noqa: E402
from tests.faults.programs import ROOT  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402

LEFT_OUT = ("customer", "site", "people", "notices")
NAME = b"marlowe"


def asked_of(member: Any) -> RecordsRequest:
    given = {"asked_by": "regulator", "name": "M. Reyes", "means": "letter", "asked_for": "All that there is."}
    return RecordsRequest.objects.create(
        firm=member.firm, handled_by=member.user, received_at=clock.now(), **given
    )


def make(many: int, sheets: bool) -> dict[str, Any]:
    """In this process: the bundle of the first so many records."""
    asked = RecordsRequest.across_firms.select_related("firm", "handled_by").get()
    treatments = list(Treatment.across_firms.order_by("number").values_list("pk", flat=True)[:many])
    wanted = {"to": "M. Reyes", "how": "by post", "language": "en", "withheld": list(LEFT_OUT)}
    start = time.perf_counter()
    handing = begin(asked, asked.handled_by, treatments, **wanted, sheets=["en"] if sheets else [])
    took = time.perf_counter() - start
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    return {"records": many, "megabytes": most, "seconds": round(took, 1), "handing": str(handing.pk)}


def counted_in() -> float:
    asked = RecordsRequest.across_firms.select_related("firm").get()
    start = time.perf_counter()
    counted(signed_matches(asked))
    list(signed_matches(asked)[:10])
    return round(time.perf_counter() - start, 3)


def judged(found: dict[str, Any]) -> dict[str, Any]:
    """What the bundle's own program says of it, and where the name stands all the same."""
    handing = Handing.across_firms.get(pk=found.pop("handing"))
    with tempfile.TemporaryDirectory() as folder, ZipFile(file_of(handing)) as archive:
        named = sum(NAME in archive.read(each).lower() for each in archive.namelist())
        archive.extractall(folder)
        index = PdfReader(Path(folder) / "index.pdf")
        named += any(NAME.decode() in page.extract_text().lower() for page in index.pages[:3])
        script = [sys.executable, "-I", f"{folder}/verify_records.py"]
        ran = subprocess.run(script, capture_output=True, check=False)
        return found | {
            "state": handing.state,
            "code": ran.returncode,
            "named": named,
            "pages": len(index.pages),
        }


def main() -> None:
    sheets, *sizes = "--sheets" in sys.argv, *(int(each) for each in sys.argv[1:] if each.isdecimal())
    if "make" in sys.argv:
        print(json.dumps(make(sizes[0], sheets)))  # noqa: T201 - what it is run for
        return
    call_command("migrate", verbosity=0)
    member = MembershipFactory(role="manager")
    sign(planned(member))
    asked_of(member)
    multiplied = Multiplied(SignedRecord.across_firms.get())
    while (left := max(sizes) - multiplied.tree.size) > 0:
        multiplied.add(min(BATCH, left))
    for many in sizes:
        again = [sys.executable, "-m", "tests.faults.bundles_at_scale", "make", str(many)]
        ran = subprocess.run(
            [*again, *(["--sheets"] if sheets else [])], cwd=ROOT, capture_output=True, text=True, check=False
        )
        if ran.returncode:
            raise RuntimeError(ran.stderr)
        found = judged(json.loads(ran.stdout.splitlines()[-1]))
        print(json.dumps(found | {"counted_in": counted_in()}), flush=True)  # noqa: T201 - what it is run for


if __name__ == "__main__":
    main()
