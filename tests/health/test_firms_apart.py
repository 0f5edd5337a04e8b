import re

from tests.health.committed import code, name_of

MAY_CROSS_FIRMS: dict[str, str] = {}


def crossing() -> set[str]:
    used = re.compile(r"\bacross_firms\b")
    return {name_of(path) for path in code() if used.search(path.read_text())}


def test_only_the_listed_modules_may_ask_across_firms():
    assert crossing() == MAY_CROSS_FIRMS.keys()
