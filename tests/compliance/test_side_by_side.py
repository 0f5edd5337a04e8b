"""Work that several processes share: in order, bounded, and no process outlives the one that hands it out."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from compliance.pack_archive import keep
from compliance.rechecking import Job
from compliance.side_by_side import WAITING_EACH, Worker, in_processes
from compliance.stored_form import compressed
from tests.compliance.patched import load
from tests.compliance.test_pack_archive import WIND, pack, rule

LAW = keep(pack(rule(**WIND)))
ROOT = Path(__file__).parents[2]
ENDLESS = """
import itertools, multiprocessing, sys
from tests.compliance.test_side_by_side import in_processes, jobs, worker
if __name__ == "__main__":
    for number, made in in_processes(((n, jobs(1)) for n in itertools.count()), worker(), 2):
        if number == 0:
            print(*(child.pid for child in multiprocessing.active_children()), flush=True)
"""


def worker() -> Worker:
    return Worker({LAW.digest: LAW}, "en")


def jobs(count: int) -> list[Job]:
    base = {"packs": [], "findings": [], "limits": [], "not_covered": [], "questions": [], "on": "2026-09-15"}
    base |= {"outcome": "met", "document": "", "context": "", "engine": "1"}
    job = Job(compressed(base), load("documents/example.json"), compressed({}), (LAW.digest,))
    return [job] * count


@pytest.mark.parametrize("processes", [1, 2])
def test_what_comes_back_is_in_the_order_of_the_work(processes):
    work = ((number, jobs(number)) for number in (3, 1, 2))
    done = list(in_processes(work, worker(), processes))
    assert [(number, len(made)) for number, made in done] == [(3, 3), (1, 1), (2, 2)]
    assert all(each.fault is None and each.differs and each.words for _, made in done for each in made)


def test_no_more_work_is_asked_for_than_the_processes_can_hold():
    asked = []

    def endless():
        while True:
            asked.append(1)
            yield len(asked), jobs(1)

    results = in_processes(endless(), worker(), 2)
    for taken in range(1, 8):
        next(results)
        assert len(asked) <= taken + 2 * WAITING_EACH
    results.close()


def is_running(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
    except OSError:
        return False
    return state != "Z"


@pytest.mark.long
def test_killed_it_leaves_no_process_behind():
    with subprocess.Popen(
        [sys.executable, "-c", ENDLESS], cwd=ROOT, stdout=subprocess.PIPE, text=True
    ) as handing_out:
        children = [int(pid) for pid in handing_out.stdout.readline().split()]
        assert len(children) == 2
        assert all(is_running(pid) for pid in children)
        os.kill(handing_out.pid, signal.SIGKILL)
    for _ in range(600):
        if not any(is_running(pid) for pid in children):
            break
        time.sleep(0.1)
    assert not any(is_running(pid) for pid in children)
