"""Sum up a year of signed treatments, set against the same with each document read strictly again; a program.

`python -m benchmarks.use_reports 10000` prints one JSON line: milliseconds of the processor for one record.
"""

import json
import sys
from collections.abc import Collection
from time import process_time
from unittest.mock import patch

import django

django.setup()

from django.core.management import call_command  # noqa: E402

from benchmarks.log_at_scale import BATCH, Multiplied  # noqa: E402
from compliance.reports.periods import Period  # noqa: E402
from compliance.services import reports  # noqa: E402
from records.document.reader import read  # noqa: E402
from records.document.section_lines import opened  # noqa: E402
from records.document.types import TreatmentDocument  # noqa: E402
from records.models import Firm, SignedRecord  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.kill_at_random import sign  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402

ROUNDS = 3


def strictly(record: bytes, lines: bytes, _names: Collection[str]) -> TreatmentDocument:
    return read({**opened(lines).sections, "record": json.loads(record)["record"]})


def took(firm: Firm, year: int, many: int) -> float:
    start = process_time()
    content = reports.make_report(firm, reports.Wanted(None, Period(year)))
    seconds = process_time() - start
    assert content["applications"]
    return seconds / many * 1000


def main() -> None:
    many = int(sys.argv[1])
    call_command("migrate", verbosity=0)
    sign(planned(MembershipFactory()))
    multiplied = Multiplied(SignedRecord.across_firms.select_related("treatment__firm").get())
    while left := many - multiplied.tree.size:
        multiplied.add(min(BATCH, left))
    firm, year = multiplied.firm, multiplied.first.treatment.day.year
    found: dict[str, list[float]] = {"report": [], "strictly": []}
    for _ in range(ROUNDS):
        found["report"].append(took(firm, year, many))
        with patch.object(reports, "as_signed", strictly):
            found["strictly"].append(took(firm, year, many))
    least = {name: round(min(each), 3) for name, each in found.items()}
    sys.stdout.write(json.dumps({"records": many, **least}) + "\n")


if __name__ == "__main__":
    main()
