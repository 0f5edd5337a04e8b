"""An old log of treatments on its way in, in a database of its own, against a bare insert of the same rows."""

from benchmarks.apart import measured
from benchmarks.timing import Ratio

ROWS = 2_000


def ratios() -> list[Ratio]:
    found = measured("bringing_in_at_scale", ROWS)
    bare = found["bare"]
    return [
        Ratio(
            f"look at one row of {ROWS:,} of an old log",
            "insert of its treatment, in bulk",
            found["look"],
            bare,
        ),
        Ratio(f"bring one in, of {ROWS:,}, with history and search", "the same", found["take"], bare),
    ]
