"""A hostile rule pack ends in one clear sentence with file and line, within a second and 200 MB."""

import re

import pytest

from tests.faults.bounded_runs import endings, not_clear


@pytest.mark.long
def test_hostile_packs_are_refused_in_a_clear_sentence():
    found = endings("packs", "small")
    assert len(found) > 500 and not not_clear(found)
    refused = [one["says"] for one in found if one["ended"] == "refused"]
    assert all(re.match(r"hostile/(pack\.yaml|rules/wind\.yaml):\d+: .", said) for said in refused)
    harmless = {one["name"] for one in found if one["ended"] == "read"}
    assert not [
        name for name in harmless if "deep" in name or name.startswith(("pack.yaml: ", "rules: ", "path"))
    ]


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4))
def test_changed_packs_are_refused_or_judge(seed):
    found = endings("packs", str(seed), "2000")
    assert len(found) == 2000 and not not_clear(found)
    assert {one["ended"] for one in found} == {"read", "refused"}
