"""Checks made again in several processes side by side, a bounded number at a time. Pure."""

import os
import signal
import threading
from collections import deque
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from typing import TypeVar

from compliance.rechecking import Archive, Job, Made, do

T = TypeVar("T")
WAITING_EACH = 2
"""Pieces of work that are handed out for each process and not yet taken back."""


@dataclass(frozen=True)
class Worker:
    """What each process does its jobs with; in a `language`, if given, it says how each check differs."""

    archive: Archive
    language: str | None = None

    def __call__(self, jobs: list[Job]) -> list[Made]:
        return [do(job, self.archive, self.language) for job in jobs]


def in_processes(
    work: Iterable[tuple[T, list[Job]]], worker: Worker, processes: int
) -> Iterator[tuple[T, list[Made]]]:
    """What came of each piece of work, in order, with what it came with.

    One process is this very one. Work is asked for only as it is done, so that memory stays flat. Raises
    BrokenProcessPool if a process is killed.
    """
    if processes == 1:
        for thing, jobs in work:
            yield thing, worker(jobs)
        return
    pool = ProcessPoolExecutor(processes, get_context("spawn"), _begin, (worker,))
    waiting: deque[tuple[T, Future[list[Made]]]] = deque()
    try:
        for thing, jobs in work:
            waiting.append((thing, pool.submit(_do, jobs)))
            if len(waiting) >= WAITING_EACH * processes:
                done, future = waiting.popleft()
                yield done, future.result()
        for done, future in waiting:
            yield done, future.result()
    finally:
        pool.shutdown(cancel_futures=True)


_at_hand: list[Worker] = []


def _begin(worker: Worker) -> None:
    """An interrupt is for the process that hands out the work; if that one is killed, this one ends, too."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _at_hand.append(worker)


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _do(jobs: list[Job]) -> list[Made]:
    return _at_hand[0](jobs)
