"""Two ways of doing one thing, timed in turns, by the processor's own clock: other work on the machine does
not count, and its mood falls on both."""

from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from time import process_time

ROUNDS = 15
SECONDS_A_ROUND = 0.12


@dataclass(frozen=True)
class Ratio:
    """Medians in seconds for one run of ours and of the plain way; `plain` 0 where there is none."""

    what: str
    against: str
    ours: float
    plain: float

    def row(self) -> str:
        ours = f"{self.ours * 1000:.3f} ms | {1 / self.ours:,.0f}"
        if not self.plain:
            return f"| {self.what} | {ours} | – | – | – |"
        plain = f"{self.plain * 1000:.3f} ms | {self.ours / self.plain:.1f}"
        return f"| {self.what} | {ours} | {self.against} | {plain} |"


def compare(what: str, ours: Callable[[], object], against: str, plain: Callable[[], object]) -> Ratio:
    counts = [runs_a_round(each) for each in (ours, plain)]
    rounds = [(timed(ours, counts[0]), timed(plain, counts[1])) for _ in range(ROUNDS)]
    return Ratio(what, against, median(first for first, _ in rounds), median(second for _, second in rounds))


def alone(what: str, ours: Callable[[], object]) -> Ratio:
    count = runs_a_round(ours)
    return Ratio(what, "", median(timed(ours, count) for _ in range(ROUNDS)), 0)


def runs_a_round(function: Callable[[], object]) -> int:
    function()
    return max(1, int(SECONDS_A_ROUND / max(timed(function, 1), 1e-7)))


def timed(function: Callable[[], object], count: int) -> float:
    """Seconds for one call, over `count` of them."""
    start = process_time()
    for _ in range(count):
        function()
    return (process_time() - start) / count
