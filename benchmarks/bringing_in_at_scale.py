"""Bring in an old log of many treatments, set against a bare insert of the same rows; a program.

`python -m benchmarks.bringing_in_at_scale 50000` prints one JSON line: seconds of the processor for one row to
be looked at, brought in and taken back, for a bare insert in bulk, and the most
memory in MB.
"""

import csv
import io
import json
import resource
import sys
from datetime import date, timedelta
from time import process_time
from uuid import uuid4

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import transaction  # noqa: E402

from records.models import ArrivalFile, Treatment, User  # noqa: E402
from records.services.bringing_in.files import keep_file  # noqa: E402
from records.services.bringing_in.looking import go_through  # noqa: E402
from records.services.bringing_in.taking import bring_in  # noqa: E402
from records.services.bringing_in.undoing import take_back  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402

HEADER = (
    "Job No", "Date", "Start", "End", "Client", "Address", "City", "Surface", "Area (sq ft)", "Pest",
    "Product", "EPA Reg No", "Amount (gal)", "Water (gal)", "Mix applied (gal)", "Wind (mph)",
    "Temp (F)", "Sky",
    "Applied by", "License No", "Truck", "Notes",
)  # fmt: skip
FIRST = date(2016, 1, 4)
MOST_ONCE_MORE = 2_000


def log_of(rows: int) -> bytes:
    """Of so many treatments, one customer and site for each five."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(HEADER)
    for row in range(rows):
        house = row % max(1, rows // 5)
        writer.writerow([
            f"J{row:06}", (FIRST + timedelta(days=row % 3600)).isoformat(), "9:15 AM", "9:50 AM",
            f"Customer {house}", f"{house} Heron Row", "Port Quill", "roof", 800 + row % 900, "moss",
            "Sample Moss Wash", "99999-12", "1.5", "13.5", "14", "SW 4", 61, "clear", "R. Osei", "CO-00231",
            "Rig 2", "steep back slope",
        ])  # fmt: skip
    return text.getvalue().encode()


def seconds(file: ArrivalFile, state: str, turn: object, user: User) -> float:
    """For one turn, as the worker takes it."""
    run = uuid4()
    ArrivalFile.objects.for_firm(file.firm).filter(pk=file.pk).update(state=state, run=run, taken_by=user)
    file = (
        ArrivalFile.objects.for_firm(file.firm)
        .select_related("firm", "by", "taken_by", "undone_by")
        .get(pk=file.pk)
    )
    begun = process_time()
    turn(file, run)  # type: ignore[operator]
    return process_time() - begun


def bare(file: ArrivalFile, rows: int) -> float:
    """Put the same treatments in once more, under other ids and numbers, in one transaction."""
    made = list(Treatment.objects.for_firm(file.firm).select_related("firm", "site", "planned_by"))[:rows]
    for treatment in made:
        treatment.pk, treatment.number = uuid4(), f"B{treatment.number}"
    begun = process_time()
    with transaction.atomic():
        Treatment.objects.bulk_create(made)
    return process_time() - begun


def main(rows: int) -> None:
    call_command("migrate", verbosity=0)
    manager = MembershipFactory(role="manager")
    file = keep_file(log_of(rows), "log.csv", manager.user, manager.firm)
    took = {
        "look": seconds(file, "looking", go_through, manager.user) / rows,
        "take": seconds(file, "taking", bring_in, manager.user) / rows,
        "megabytes": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }
    once_more = min(rows, MOST_ONCE_MORE)
    took["bare"] = bare(file, once_more) / once_more
    took["undo"] = seconds(file, "undoing", take_back, manager.user) / rows
    left = Treatment.objects.for_firm(manager.firm).count()
    if left != once_more:
        raise AssertionError(f"{left} treatments are left, not the {once_more} that were put in by themselves")
    sys.stdout.write(json.dumps(took) + "\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))
