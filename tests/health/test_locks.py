import re
import tomllib
from importlib.metadata import PackageNotFoundError, requires

import pytest
from packaging.requirements import Requirement

from tests.health.committed import ROOT

LOCKS = ("requirements.lock", "requirements-test.lock", "requirements-bench.lock")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())


def pinned(lock: str) -> dict[str, str]:
    """What a lock pins: name and its lines, hashes included."""
    entries = re.split(r"\n(?=[a-z0-9])", (ROOT / lock).read_text().strip())
    return {entry.partition("==")[0].partition("[")[0]: entry for entry in entries}


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_names_no_host(lock):
    """Neither an address nor an option of the installer: that is what a line beginning with a dash is."""
    assert not re.search(r"(?m)://|^-", (ROOT / lock).read_text())


@pytest.mark.parametrize("lock", LOCKS)
def test_every_package_in_a_lock_is_pinned_by_hash(lock):
    assert {name for name, entry in pinned(lock).items() if "--hash=sha256:" not in entry} == set()


def test_the_locks_hold_every_dependency():
    wanted = [Requirement(text).name.lower() for text in PROJECT["project"]["dependencies"]]
    for_tests = [Requirement(text).name.lower() for text in PROJECT["dependency-groups"]["test"]]
    assert set(wanted) <= pinned("requirements.lock").keys()
    assert {*wanted, *for_tests} <= {name.replace("_", "-") for name in pinned("requirements-test.lock")}
    for_ratios = [Requirement(text).name.lower() for text in PROJECT["dependency-groups"]["bench"]]
    assert set(for_ratios) <= pinned("requirements-bench.lock").keys()


def test_both_locks_pin_the_same_versions():
    def version(entry: str) -> str:
        return entry.splitlines()[0]

    tests = pinned("requirements-test.lock")
    assert {name: version(entry) for name, entry in pinned("requirements.lock").items()} == {
        name: version(tests[name]) for name in pinned("requirements.lock")
    }


def installed_needs(name: str) -> list[Requirement]:
    try:
        return [Requirement(text) for text in requires(name) or []]
    except PackageNotFoundError:
        return []


@pytest.mark.parametrize("lock", LOCKS)
def test_a_package_that_another_wants_with_extras_is_pinned_with_them(lock):
    """Else installing by hash refuses `name[extra]` as soon as a release newer than the pinned one is out."""
    pins = pinned(lock)
    direct = [Requirement(text) for text in PROJECT["project"]["dependencies"]]
    needs = [*direct, *(need for name in pins for need in installed_needs(name))]
    wanted = [need for need in needs if need.extras and need.name in pins and applies(need)]
    assert [str(need) for need in wanted if not need.extras <= pinned_extras(pins[need.name])] == []


def test_some_packages_are_wanted_with_extras():
    assert any(need.extras for name in pinned("requirements-test.lock") for need in installed_needs(name))


def applies(need: Requirement) -> bool:
    return need.marker is None or need.marker.evaluate({"extra": ""})


def pinned_extras(entry: str) -> set[str]:
    return Requirement(re.split(r"[;\\]", entry)[0]).extras
