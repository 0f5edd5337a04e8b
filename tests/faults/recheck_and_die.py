"""Check a small register again in processes that are killed, each a statement later; a program.

Prints one JSON line for each process: whether it was killed, and what the database holds afterwards.
"""

import json
import os
import sys

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection, connections  # noqa: E402

from compliance.models import Recheck, RecheckResult, StoredCheck  # noqa: E402
from compliance.services import recheck  # noqa: E402
from compliance.services.recheck_basis import TODAY  # noqa: E402
from compliance.services.signing import prepare, sign_confirmed  # noqa: E402
from records.models import Firm, Treatment  # noqa: E402
from records.services.to_sign import Signer  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.sign_and_die import Killer, planned  # noqa: E402

RECORDS = 4


def sign(treatment: Treatment) -> None:
    findings = prepare(treatment, Signer(treatment.planned_by)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "so"} for each in findings]
    sign_confirmed(treatment, treatment.planned_by, answers)


def killed_at(statement: int, firm: Firm) -> bool:
    """Go on with the run in a process of its own that is killed before that statement; whether it was."""
    connections.close_all()
    child = os.fork()
    if child == 0:
        with connection.execute_wrapper(Killer(statement)):
            run = recheck.unfinished(firm, TODAY) or recheck.begin(firm, TODAY)
            list(recheck.go_on(run))
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if not os.WIFSIGNALED(status) and os.waitstatus_to_exitcode(status) != 0:
        raise RuntimeError("the run failed of itself")
    return os.WIFSIGNALED(status)


def report(killed: bool) -> None:
    results = RecheckResult.across_firms.values_list("base", flat=True)
    runs = Recheck.across_firms.all()
    found = {
        "killed": killed,
        "results": len(results),
        "once": len(set(results)) == len(results),
        "runs": len(runs),
        "finished": [run.finished_at is not None for run in runs] == [True],
        "checks": StoredCheck.across_firms.count(),
    }
    sys.stdout.write(json.dumps(found) + "\n")


def main() -> None:
    call_command("migrate", verbosity=0)
    recheck.AT_ONCE = 1
    member = MembershipFactory()
    for _ in range(RECORDS):
        sign(planned(member))
    for statement in range(1, 200):
        killed = killed_at(statement, member.firm)
        report(killed)
        if not killed:
            break


if __name__ == "__main__":
    main()
