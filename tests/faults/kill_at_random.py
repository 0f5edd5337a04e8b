"""Sign and correct in processes that are killed at random moments, and look at what they left; a program.

`python -m tests.faults.kill_at_random 200` prints one JSON line: how many processes were killed and how many
came to their end, how many times something was half done, and what does not hold in the log.
"""

import json
import os
import random
import signal
import sys
import time
from collections.abc import Callable, Iterator
from typing import Any
from uuid import uuid4

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connections  # noqa: E402

from compliance.models import StoredCheck  # noqa: E402
from compliance.services.signing import UnansweredError, sign_confirmed  # noqa: E402
from records.document.edits import Edit  # noqa: E402
from records.log_check import look_at_log  # noqa: E402
from records.models import LogEntry, Membership, SignedRecord, Treatment, TreeHead  # noqa: E402
from records.services.corrections import start_correction  # noqa: E402
from records.services.drafts import edit_draft  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402

SEED = 9162
MOST_ROUNDS = 20
SHORTER, LONGER = 0.8, 1.05


def sign(treatment: Treatment) -> None:
    try:
        sign_confirmed(treatment, treatment.planned_by)
    except UnansweredError as error:
        answers = [{"rule": each["rule"], "about": each["about"], "reason": "so"} for each in error.findings]
        sign_confirmed(treatment, treatment.planned_by, answers)


def correct(treatment: Treatment) -> None:
    draft = start_correction(treatment, treatment.planned_by, "the note was wrong")
    note = Edit(str(uuid4()), "notes", f"corrected {uuid4()}", draft.revision)
    edit_draft(draft, [note], draft.planned_by)
    sign(draft)


def as_it_is(treatment: Treatment) -> Treatment:
    return Treatment.across_firms.get(pk=treatment.pk)


class Killed:
    """Acts in processes of their own that may be killed at any moment.

    The moments are spread over the time that an act takes: one that came to its end before its moment has shown
    that it takes less, so that as many as are asked for are killed, however fast the machine is.
    """

    def __init__(self, member: Membership) -> None:
        self.member = member
        self.chance = random.Random(SEED)
        self.killed = self.ended = 0
        self.longest = 0.0
        self.halves: list[str] = []

    def rounds(self, many: int) -> Iterator[int]:
        """Numbers from 1, until that many were killed."""
        for number in range(1, MOST_ROUNDS * many + 1):
            yield number
            if self.killed >= many:
                return

    def measure(self, act: Callable[[], object]) -> None:
        start = time.monotonic()
        self.wait(self.begin(act))
        self.longest = time.monotonic() - start

    def attempt(self, act: Callable[[], object]) -> None:
        child, ended = self.begin(act), self.ended
        time.sleep(self.chance.uniform(0, self.longest))
        os.kill(child, signal.SIGKILL)
        self.wait(child)
        self.longest *= SHORTER if self.ended > ended else LONGER

    def begin(self, act: Callable[[], object]) -> int:
        connections.close_all()
        child = os.fork()
        if child == 0:
            act()
            os._exit(0)
        return child

    def wait(self, child: int) -> None:
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            self.killed += 1
        elif os.waitstatus_to_exitcode(status) == 0:
            self.ended += 1
        else:
            raise RuntimeError("it failed of itself")


class Run(Killed):
    """Signings and corrections in turn."""

    def go(self, many: int) -> dict[str, Any]:
        first = planned(self.member)
        self.measure(lambda: sign(as_it_is(first)))
        for _ in self.rounds(many):
            treatment = planned(self.member)
            self.attempt(lambda treatment=treatment: sign(as_it_is(treatment)))
            if as_it_is(treatment).state == "signed":
                self.attempt(lambda treatment=treatment: correct(as_it_is(treatment)))
            self.look_at(treatment)
        return {
            "killed": self.killed,
            "ended": self.ended,
            "halves": self.halves,
            "signed": SignedRecord.across_firms.count(),
            "entries": LogEntry.across_firms.count(),
            "heads": TreeHead.across_firms.count(),
            "log": [str(each) for each in look_at_log(self.member.firm).broken],
        }

    def look_at(self, treatment: Treatment) -> None:
        """Each version has its check and its entry, and the row says what there is."""
        row = as_it_is(treatment)
        signed = SignedRecord.across_firms.filter(treatment=row)
        found = (
            row.state,
            signed.count(),
            StoredCheck.across_firms.filter(treatment=row).count(),
            LogEntry.across_firms.filter(record__treatment=row).count(),
        )
        if found not in WHOLE:
            self.halves.append(f"{row.number}: {found}")


WHOLE = {
    ("draft", 0, 0, 0),
    ("signed", 1, 1, 1),
    ("correcting", 1, 1, 1),
    ("corrected", 2, 2, 2),
}


def main() -> None:
    call_command("migrate", verbosity=0)
    sys.stdout.write(json.dumps(Run(MembershipFactory()).go(int(sys.argv[1]))) + "\n")


if __name__ == "__main__":
    main()
