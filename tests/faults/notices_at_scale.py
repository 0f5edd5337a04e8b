"""Queue, print and send many notices, and watch memory and progress; a program.

`python -m tests.faults.notices_at_scale 520 10000` prints one JSON line for each number: the most memory (in
MB) that the process had so far, how many were queued, printed and sent in a second, what came to the mail
server, and where the progress that people are shown was not what had happened.
"""

import json
import multiprocessing
import resource
import sys
import time
from collections import Counter
from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any
from unittest.mock import patch

import django

django.setup()

from django.conf import settings  # noqa: E402
from django.core.management import call_command  # noqa: E402

from records.models import Attempt, Notice, Treatment  # noqa: E402
from records.outbox.piece import Attachment, Piece  # noqa: E402
from records.outbox.queueing import queue  # noqa: E402
from records.outbox.results import result  # noqa: E402
from records.outbox.sending import send_next  # noqa: E402
from shared import clock  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.recheck_at_scale import another  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402
from tests.records.outbox.mail_server import MailServer  # noqa: E402
from tests.records.outbox.pieces import piece  # noqa: E402

OF_A_TREATMENT = 40
LOOKED_AT_EVERY = 500
BY_LETTER = 4
LETTER = b"%PDF-1.4 " + bytes(30_000)


def serve(port: Any, told: Any) -> None:
    """A mail server in a process of its own."""
    with MailServer() as server:
        port.send(server.port)
        while told.recv():
            told.send(Counter(str(mail["To"]) for mail in server.taken))
            server.taken.clear()


def pieces(treatment: int, at: datetime) -> Iterator[Piece]:
    for number in range(OF_A_TREATMENT):
        person = f"p{treatment}-{number}"
        common = {"name": person, "neighbour": None, "planned_at": at, "until": None}
        if number % BY_LETTER:
            yield piece(email=f"{person}@example.net", **common)
        else:
            letter = Attachment("letter.pdf", "application/pdf", LETTER + person.encode())
            yield piece(email="", means="letter", attachments=(letter,), **common)


def shown(firm: Any) -> Counter[str]:
    """The progress by state."""
    return Counter(Notice.objects.for_firm(firm).values_list("state", flat=True))


def megabytes() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def all_of_it(many: int, taken: Any) -> dict[str, Any]:
    member = MembershipFactory()
    at = clock.now().replace(microsecond=0) + timedelta(days=9)
    first = planned(member, at)
    start = time.perf_counter()
    for number in range(many // OF_A_TREATMENT):
        treatment = another(first, number=f"N-{number}")
        Treatment.across_firms.bulk_create([treatment])
        queue(treatment, pieces(number, at), member.user)
    queued = time.perf_counter()
    letters = Notice.objects.for_firm(member.firm).filter(means="letter")
    for letter in letters.iterator(50):
        assert bytes(letter.files.get().kept.content).startswith(LETTER)
        result(letter, Attempt.Kind.PRINTED, by=member.user)
    printed = time.perf_counter()
    untrue, sent = [], 0
    while send_next(member.firm):
        sent += 1
        if sent % LOOKED_AT_EVERY == 0 and shown(member.firm)["sent"] != sent:
            untrue.append(sent)
    ended = time.perf_counter()
    counts = taken()
    return {
        "notices": many,
        "megabytes": round(megabytes()),
        "queued_a_second": round(many / (queued - start)),
        "printed_a_second": round(many / BY_LETTER / (printed - queued)),
        "sent_a_second": round(sent / (ended - printed)),
        "shown": shown(member.firm),
        "came": len(counts),
        "twice": [to for to, times in counts.items() if times > 1],
        "untrue": untrue,
    }


def main() -> None:
    ours, theirs = multiprocessing.Pipe()
    port, gives = multiprocessing.Pipe(duplex=False)
    server = multiprocessing.Process(target=serve, args=(gives, theirs), daemon=True)
    server.start()
    call_command("migrate", verbosity=0)
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", port.recv()

    def taken() -> Counter[str]:
        ours.send("done")
        return ours.recv()

    with patch("records.outbox.tasks.send_soon"):  # the tests' tasks are done at once
        for many in sys.argv[1:]:
            sys.stdout.write(json.dumps(all_of_it(int(many), taken)) + "\n")


if __name__ == "__main__":
    main()
