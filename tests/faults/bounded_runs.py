"""Runs the program that gives hostile input to a reader, and reads how each input ended."""

import json
import subprocess
import sys

from tests.faults.programs import ROOT

LONGEST_SENTENCE = 1000
Ending = dict[str, str]


def endings(*arguments: str) -> list[Ending]:
    """How each input ended. A process that was killed over one of them fails here, with its name."""
    run = subprocess.run(
        [sys.executable, "-m", "tests.faults.bounded", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    found = [json.loads(line) for line in run.stdout.splitlines()]
    last = found[-1]["name"] if found else "none"
    assert run.returncode == 0, f"killed by {-run.returncode} after: {last}\n{run.stderr[-2000:]}"
    return found


def not_clear(found: list[Ending]) -> list[Ending]:
    """Those that ended in an error that is not the reader's own, or in a sentence that nobody would read."""
    return [
        one for one in found if one["ended"] not in ("read", "refused") or len(one["says"]) > LONGEST_SENTENCE
    ]
