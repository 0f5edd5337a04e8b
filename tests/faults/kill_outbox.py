"""Send notices in workers that are killed at random moments, and look at what they left; a program.

`python -m tests.faults.kill_outbox 100` prints one JSON line: how many workers were killed, how many notices
were made, how often each came to the mail server, and in which state each of them is shown.
"""

import json
import sys
from collections import Counter
from datetime import timedelta
from typing import Any

import django

django.setup()

from django.conf import settings  # noqa: E402
from django.core.management import call_command  # noqa: E402

from records.models import Firm, Notice, NoticeTask  # noqa: E402
from records.outbox.queueing import queue  # noqa: E402
from records.outbox.sending import LONGEST_SENDING, mend, send_next  # noqa: E402
from shared import clock  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.kill_at_random import Killed  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402
from tests.records.outbox.mail_server import MailServer  # noqa: E402
from tests.records.outbox.pieces import piece  # noqa: E402

OF_A_WORKER = 3


def work(firm_id: Any) -> None:
    firm = Firm.across_firms.get(pk=firm_id)
    while send_next(firm):
        pass


class Run(Killed):
    """Each worker has a few notices to send, and what the ones before it left."""

    def go(self, many: int, server: MailServer) -> dict[str, Any]:
        firm = self.member.firm
        self.add(0)
        self.measure(lambda: work(firm.pk))
        for number in self.rounds(many):
            self.add(number)
            self.attempt(lambda: work(firm.pk))
        work(firm.pk)
        with clock.at(clock.now() + LONGEST_SENDING):
            mend(firm)
        taken = Counter(str(mail["To"]) for mail in server.taken)
        states = dict(Notice.across_firms.values_list("email", "state"))
        return {
            "killed": self.killed,
            "added": OF_A_WORKER * (number + 1),
            "made": len(states),
            "twice": [to for to, times in taken.items() if times > 1],
            "lost": [to for to, state in states.items() if state == "sent" and to not in taken],
            "unseen": [to for to, state in states.items() if state not in ("sent", "unsure")],
            "unsure": sum(state == "unsure" for state in states.values()),
            "tasks": NoticeTask.across_firms.filter(kind="unsure", done_at=None).count(),
        }

    def add(self, number: int) -> None:
        at = clock.now().replace(microsecond=0) + timedelta(days=9)
        treatment = planned(self.member, at)
        pieces = [
            piece(email=f"p{number}-{each}@example.net", neighbour=None, planned_at=at, until=None)
            for each in range(OF_A_WORKER)
        ]
        queue(treatment, pieces, self.member.user)


def main() -> None:
    call_command("migrate", verbosity=0)
    settings.TASKS = {"default": {"BACKEND": "django_tasks.backends.dummy.DummyBackend"}}
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    with MailServer() as server:
        settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", server.port
        sys.stdout.write(json.dumps(Run(MembershipFactory()).go(int(sys.argv[1]), server)) + "\n")


if __name__ == "__main__":
    main()
