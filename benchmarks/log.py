"""The log of a firm with many signed records: looking at it and entering into it, in a database of its own."""

from benchmarks.apart import measured
from benchmarks.timing import Ratio

RECORDS = 20_000
MICRO = 1e-6


def ratios() -> list[Ratio]:
    found = {name: each * MICRO for name, each in measured("log_at_scale", RECORDS).items()}
    of = f"of a log of {RECORDS:,}"
    return [
        Ratio(
            f"look at one record {of}",
            "SHA-256 over its stored bytes, each line as it is bound",
            found["look"],
            found["bare_by_line"],
        ),
        Ratio(f"the same {of}", "SHA-256 over them in two pieces", found["look"], found["bare"]),
        Ratio(
            f"keep and enter one record {of}, committed",
            "insert of the same bytes, committed",
            found["append"],
            found["bare_insert"],
        ),
    ]
