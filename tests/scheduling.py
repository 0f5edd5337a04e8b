"""Which process runs which test: one by one as they come, but a module that loads much once stays whole."""

from xdist.scheduler import LoadScopeScheduling

LOADED_ONCE = ("tests/journeys/test_demo_load.py",)


class Scheduling(LoadScopeScheduling):
    def _split_scope(self, nodeid: str) -> str:
        module = nodeid.partition("::")[0]
        return module if module in LOADED_ONCE else nodeid
