"""A bundle with its sheets, index, form and letter, set against the same marks drawn straight on a reportlab
canvas; a program.

`python -m benchmarks.bundle_pages 200` makes the bundle of so many records in a database of its own and prints
one JSON line: pages, seconds of processor for the whole bundle and for the bare pages, pages a second of both.
The bundle's seconds hold everything: records read, sheets signed, tables, proofs, the zip.
"""

import json
import sys
from io import BytesIO
from time import process_time
from zipfile import ZipFile

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from pypdf import PdfReader  # noqa: E402

from benchmarks.log_at_scale import BATCH, Multiplied  # noqa: E402
from benchmarks.printing import drawn, marks_on  # noqa: E402
from compliance.request_bundle.folder import file_of  # noqa: E402
from compliance.services.handings import begin  # noqa: E402
from records.models import SignedRecord, Treatment  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.bundles_at_scale import asked_of  # noqa: E402
from tests.faults.kill_at_random import sign  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402


def main() -> None:
    many = int(sys.argv[1])
    call_command("migrate", verbosity=0)
    member = MembershipFactory(role="manager")
    sign(planned(member))
    multiplied = Multiplied(SignedRecord.across_firms.get())
    while (left := many - multiplied.tree.size) > 0:
        multiplied.add(min(BATCH, left))
    treatments = list(Treatment.across_firms.order_by("number").values_list("pk", flat=True))
    asked, wanted = asked_of(member), {"to": "M. Reyes", "how": "by post", "language": "en"}
    start = process_time()
    handing = begin(asked, member.user, treatments, **wanted, sheets=["en"])
    ours = process_time() - start
    with ZipFile(file_of(handing)) as archive:
        papers = [archive.read(name) for name in archive.namelist() if name.endswith(".pdf")]
    marks = [marks_on(page) for paper in papers for page in PdfReader(BytesIO(paper)).pages]
    start = process_time()
    drawn(marks)
    bare = process_time() - start
    found = {"records": many, "pages": len(marks), "bundle_seconds": ours, "bare_seconds": bare}
    found |= {"pages_a_second": len(marks) / ours, "bare_pages_a_second": len(marks) / bare}
    found |= {"ratio": ours / bare}
    sys.stdout.write(json.dumps({name: round(each, 2) for name, each in found.items()}) + "\n")


if __name__ == "__main__":
    main()
