"""Which process runs which test: one by one as they come, but a module that loads much once stays whole."""

import pytest
from xdist.scheduler import LoadScopeScheduling

LOADED_ONCE = ("tests/journeys/test_demo_load.py",)
WHILE_MIGRATING = 800


class Scheduling(LoadScopeScheduling):
    def _split_scope(self, nodeid: str) -> str:
        module = nodeid.partition("::")[0]
        return module if module in LOADED_ONCE else nodeid


def pure_while_one_migrates(items: list[pytest.Item]) -> None:
    """One test makes the database for all; those that need none come next, so that no process waits for it.

    Tests in the browser stay behind those that sign papers: its driver keeps an event loop running, in which
    none can be begun.
    """
    pure = [item for item in items if not needs_database(item) and not item.get_closest_marker("browser")]
    meanwhile = {*pure[:WHILE_MIGRATING]}
    others = [item for item in items if item not in meanwhile]
    items[:] = [*others[:1], *pure[:WHILE_MIGRATING], *others[1:]]


def needs_database(item: pytest.Item) -> bool:
    asked = {"db", "transactional_db", "live_server"} & {*getattr(item, "fixturenames", ())}
    return bool(asked) or item.get_closest_marker("django_db") is not None
