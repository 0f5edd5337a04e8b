"""Give hostile input to a reader, with so much memory and time and no more; a program.

`python -m tests.faults.bounded packs small` or `... documents 7 2000` (seed and count). Prints one JSON line
for each input: how it ended and what was said. A process that takes too long, or wants too much memory for a
clear error, is killed by the system or names a MemoryError.
"""

import json
import resource
import signal
import sys
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from tests.faults import hostile_documents, hostile_packs

MEGABYTES = 200
SECONDS = 1.0
FAMILIES = {"packs": hostile_packs, "documents": hostile_documents}


def bound_memory() -> None:
    """From here on the process may take so much more."""
    now = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
    most = now + MEGABYTES * 1024 * 1024
    resource.setrlimit(resource.RLIMIT_AS, (most, most))


def ended(read: Callable[[], Any], own_errors: tuple[type[Any], ...]) -> dict[str, str]:
    """How reading ended; the system kills the process when the time is over."""
    signal.setitimer(signal.ITIMER_PROF, SECONDS)
    try:
        read()
    except own_errors as error:
        said = [error.say(language) for language in ("en", "es")]
        return {"ended": "refused", "says": max(said, key=len)}
    except BaseException as error:
        return {"ended": f"{type(error).__name__}: {error}"[:300], "says": traceback.format_exc()[-1500:]}
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
    return {"ended": "read", "says": ""}


def inputs(family: Any, arguments: list[str]) -> Iterator[tuple[str, Callable[[], Any]]]:
    if arguments == ["small"]:
        yield from family.small()
    else:
        seed, count = map(int, arguments)
        yield from family.mutated(seed, count)


if __name__ == "__main__":
    family = FAMILIES[sys.argv[1]]
    family.warm_up()
    bound_memory()
    for name, read in inputs(family, sys.argv[2:]):
        print(json.dumps({"name": name, **ended(read, family.OWN_ERRORS)}), flush=True)  # noqa: T201 - what it is run for
