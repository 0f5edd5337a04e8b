"""Sign one treatment again and again in processes that are killed, each one step further on; a program.

Prints one JSON line for each process: how it ended, and what the database holds afterwards.
"""

import json
import os
import signal
import sys
from collections.abc import Callable
from datetime import datetime
from typing import Any

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection, connections  # noqa: E402

from compliance.models import StoredCheck  # noqa: E402
from compliance.services.signing import prepare, sign_treatment  # noqa: E402
from records.log_check import look_at_log  # noqa: E402
from records.models import LogEntry, Membership, SignedRecord, SigningKey, Treatment  # noqa: E402
from records.services.planning import Plan, plan_treatment  # noqa: E402
from records.services.signing import Signer  # noqa: E402
from tests.factories import PASSWORD, MembershipFactory, SurfaceFactory  # noqa: E402


def die() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


class Killer:
    """Kills the process before its statement number `at`."""

    def __init__(self, at: int) -> None:
        self.left = at

    def __call__(self, execute: Callable[..., Any], *args: Any) -> Any:
        self.left -= 1
        if self.left == 0:
            die()
        return execute(*args)


class AtTheSigning:
    """Commits as usual the try of the password that is counted first, and acts at the commit of the signing."""

    def __init__(self, act: Callable[[], None]) -> None:
        self.commit, self.act, self.seen = connection._commit, act, 0

    def __call__(self) -> None:
        self.seen += 1
        (self.commit if self.seen == 1 else self.act)()


THAT_MORNING = datetime.fromisoformat("2026-09-14T09:00:00-07:00")


def planned(member: Membership, at: datetime = THAT_MORNING) -> Treatment:
    surface = SurfaceFactory(firm=member.firm)
    plan = Plan(site=surface.site, surfaces=[surface], planned_at=at)
    return plan_treatment(member.firm, member.user, plan)


class Attempts:
    """Attempts to sign one treatment, each in a process of its own."""

    def __init__(self, treatment: Treatment) -> None:
        self.treatment = treatment
        findings = prepare(treatment, Signer(treatment.planned_by)).open_findings
        self.answers = [{"rule": each["rule"], "about": each["about"], "reason": "so"} for each in findings]

    def attempt(
        self, name: str, killer: Killer | None = None, commit: Callable[[], None] | None = None
    ) -> None:
        """Sign in a process, and print how it ended and what it left."""
        self.report(name, killed=not self.ended(self.begin(killer, commit)))

    def twice_at_once(self) -> None:
        """Sign in two processes at the same time, as an impatient thumb does."""
        both = [self.begin(), self.begin()]
        ended = [self.ended(child) for child in both]
        self.report("twice at once", killed=False in ended)

    def begin(self, killer: Killer | None = None, commit: Callable[[], None] | None = None) -> int:
        connections.close_all()
        child = os.fork()
        if child == 0:
            self.sign(killer or Killer(0), commit or connection._commit)
            os._exit(0)
        return child

    def ended(self, child: int) -> bool:
        """Whether the process came to its end, and was not killed."""
        _, status = os.waitpid(child, 0)
        if not os.WIFSIGNALED(status) and os.waitstatus_to_exitcode(status) != 0:
            raise RuntimeError("signing failed of itself")
        return not os.WIFSIGNALED(status)

    def sign(self, killer: Killer, commit: Callable[[], None]) -> None:
        connection._commit = commit
        with connection.execute_wrapper(killer):
            sign_treatment(self.treatment, self.treatment.planned_by, PASSWORD, self.answers, revision=0)

    def statements(self) -> int:
        """How many statements signing takes, counted in a process that is killed before it commits."""
        reading, writing = os.pipe()
        connections.close_all()
        if (child := os.fork()) == 0:
            killer = Killer(0)
            self.sign(killer, AtTheSigning(lambda: (os.write(writing, str(-killer.left).encode()), die())))
        os.waitpid(child, 0)
        return int(os.read(reading, 20))

    def report(self, name: str, killed: bool) -> None:
        treatment = Treatment.across_firms.get(pk=self.treatment.pk)
        signed = SignedRecord.across_firms.filter(treatment=treatment)
        found = {
            "point": name,
            "killed": killed,
            "state": treatment.state,
            "outcome": treatment.outcome,
            "signed": signed.count(),
            "checks": StoredCheck.across_firms.filter(treatment=treatment).count(),
            "keys": SigningKey.across_firms.count(),
            "entries": LogEntry.objects.for_firm(treatment.firm).filter(record__treatment=treatment).count(),
            "log": [str(each) for each in look_at_log(treatment.firm).broken],
        }
        sys.stdout.write(json.dumps(found) + "\n")


def main() -> None:
    call_command("migrate", verbosity=0)
    member = MembershipFactory()
    attempts = Attempts(planned(member))
    for number in range(1, attempts.statements() + 1):
        attempts.attempt(f"statement {number}", killer=Killer(number))
    commit = connection._commit
    attempts.attempt("before commit", commit=AtTheSigning(die))
    attempts.attempt("after commit", commit=AtTheSigning(lambda: (commit(), die())))
    attempts.attempt("sent again")
    Attempts(planned(member)).twice_at_once()


if __name__ == "__main__":
    main()
