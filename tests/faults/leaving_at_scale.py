"""Take a firm of many signed records out, and watch the memory; a program.

`python -m tests.faults.leaving_at_scale 500 10000` prints one JSON line for each number of records: the most
memory (in MB) that the process ever had, how long it took, and how large the file is.
"""

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connections  # noqa: E402

from benchmarks.log_at_scale import Multiplied  # noqa: E402
from records.models import Firm, SignedRecord  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.kill_at_random import sign  # noqa: E402
from tests.faults.programs import ROOT  # noqa: E402
from tests.faults.recheck_at_scale import peak  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402

BATCH = 500


def taken_out(firm: Firm, records: int) -> dict[str, Any]:
    connections.close_all()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "firm.zip"
        command = [sys.executable, "manage.py", "take_out", str(firm.pk), str(file), "--skip-checks"]
        start, most = time.monotonic(), 0
        with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL) as run:
            while run.poll() is None:
                most = max(most, peak(run.pid))
                time.sleep(0.1)
        return {
            "records": records,
            "code": run.returncode,
            "megabytes": round(most / 1024, 1),
            "seconds": round(time.monotonic() - start, 1),
            "bytes": file.stat().st_size,
        }


def main() -> None:
    call_command("migrate", verbosity=0)
    sign(planned(MembershipFactory()))
    multiplied = Multiplied(SignedRecord.across_firms.get())
    for many in map(int, sys.argv[1:]):
        while left := many - multiplied.tree.size:
            multiplied.add(min(BATCH, left))
        sys.stdout.write(json.dumps(taken_out(multiplied.firm, many)) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
