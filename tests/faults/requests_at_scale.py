"""Show the page of requests that very many records meet, and watch the processor; a program.

`python -m tests.faults.requests_at_scale 10000` makes a firm with so many records that meet each request, most
with open findings, hundreds void, under correction, held, corrected or followed up since it came, and prints
a JSON line for each request: seconds of the processor and of the clock for its page and for what comes after,
and how many records meet it.
"""

import json
import re
import sys
import time
from typing import Any

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection  # noqa: E402
from django.test import Client  # noqa: E402
from django.urls import reverse  # noqa: E402

from compliance.models import RecordsRequest  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.many_that_meet import CAME, fill  # noqa: E402

SEARCHES: dict[str, dict[str, str]] = {
    "everything": {},
    "product": {"product": "sample moss wash", "day_from": "2026-05-01", "day_to": "2026-09-30"},
    "customer": {"customer": "marlowe", "day_from": "2026-05-01", "day_to": "2026-09-30"},
    "not met": {"outcome": "not_met", "day_from": "2026-05-01"},
    "one rule": {"finding": "label/99999-12/ppe"},
    "words": {"words": "osei moss quill", "day_from": "2026-05-01"},
}


def shown(client: Client, asked: RecordsRequest) -> dict[str, Any]:
    of = {"asked": asked.pk}
    page, first = timed(client, reverse("request", kwargs=of))
    _rest, after = timed(client, reverse("before_answering", kwargs=of))
    (met,) = re.findall(r"Signed records that fit \((.*?)\)", page)
    return {"page": first, "what comes after it": after, "met": met}


def timed(client: Client, address: str) -> tuple[str, dict[str, float]]:
    """What is there, and the seconds of the processor and of the clock that it took."""
    start, began = time.process_time(), time.perf_counter()
    page = client.get(address).content.decode()
    took = {"processor": time.process_time() - start, "clock": time.perf_counter() - began}
    return page, {name: round(each, 3) for name, each in took.items()}


def main() -> None:
    many = int(sys.argv[1])
    call_command("migrate", verbosity=0)
    member = MembershipFactory(role="manager")
    fill(member, many)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    client = Client(headers={"host": "localhost"})
    client.force_login(member.user)
    given = {"asked_by": "regulator", "name": "M. Reyes", "means": "letter", "asked_for": "All of them."}
    given |= {"firm": member.firm, "handled_by": member.user, "received_at": CAME}
    first = RecordsRequest.across_firms.create(**given, wanted={"product": "no such"})
    client.get(reverse("request", kwargs={"asked": first.pk}))
    for name, wanted in SEARCHES.items():
        asked = RecordsRequest.across_firms.create(**given, wanted=wanted)
        found = {"search": name, **shown(client, asked)}
        print(json.dumps(found), flush=True)  # noqa: T201 - what it is run for


if __name__ == "__main__":
    main()
