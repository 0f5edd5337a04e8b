"""Make a bundle of a few records in processes that are killed, each some statements later; a program.

Prints one JSON line for each process: whether it was killed, and what is there afterwards.
"""

import json
import os
import subprocess
import sys
import tempfile
from datetime import timedelta
from uuid import uuid4
from zipfile import ZipFile

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection, connections  # noqa: E402

from compliance.models import Handing, RecordsRequest  # noqa: E402
from compliance.request_bundle.folder import file_of, sheets_of  # noqa: E402
from compliance.request_bundle.making import make  # noqa: E402
from records.models import AuditEntry, Treatment  # noqa: E402
from shared import clock  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.recheck_and_die import sign  # noqa: E402
from tests.faults.sign_and_die import Killer, planned  # noqa: E402

RECORDS, STEP = 3, 2


def killed_at(statement: int, handing: Handing) -> bool:
    """Take a turn in a process of its own that is killed before that statement; whether it was."""
    run = uuid4()
    Handing.across_firms.filter(pk=handing.pk).update(run=run, noted_at=clock.now())
    connections.close_all()
    child = os.fork()
    if child == 0:
        with connection.execute_wrapper(Killer(statement)):
            make(Handing.across_firms.select_related("firm", "by", "request", "since").get(pk=handing.pk), run)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if not os.WIFSIGNALED(status) and os.waitstatus_to_exitcode(status) != 0:
        raise RuntimeError("the turn failed of itself")
    return os.WIFSIGNALED(status)


def report(killed: bool, handing: Handing) -> None:
    handing.refresh_from_db()
    noted = AuditEntry.across_firms.filter(kind="exported", thing="records.signedrecord").count()
    found = {
        "killed": killed,
        "state": handing.state,
        "noted": noted,
        "drawn": len(list(sheets_of(handing).glob("*-en"))),
    }
    if handing.state == "ready":
        with tempfile.TemporaryDirectory() as folder, ZipFile(file_of(handing)) as archive:
            archive.extractall(folder)
            script = [sys.executable, "-I", f"{folder}/verify_records.py"]
            found["code"] = subprocess.run(script, capture_output=True, check=False).returncode
    sys.stdout.write(json.dumps(found) + "\n")


def main() -> None:
    call_command("migrate", verbosity=0)
    member = MembershipFactory(role="manager")
    for _ in range(RECORDS):
        sign(planned(member))
    given = {
        "asked_by": "court",
        "name": "M. Reyes",
        "means": "letter",
        "asked_for": "All.",
        "handled_by": member.user,
    }
    asked = RecordsRequest.objects.create(
        firm=member.firm, received_at=clock.now() - timedelta(days=1), **given
    )
    treatments = [str(pk) for pk in Treatment.across_firms.order_by("number").values_list("pk", flat=True)]
    handing = Handing.objects.create(
        firm=member.firm, request=asked, by=member.user, to="M. Reyes", how="by post", language="en",
        treatments=treatments, withheld=["notices"], sheets=["en"],
    )  # fmt: skip
    for statement in range(1, 1_000, STEP):
        killed = killed_at(statement, handing)
        report(killed, handing)
        if not killed:
            break


if __name__ == "__main__":
    main()
