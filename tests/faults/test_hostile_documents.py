"""A hostile document or context ends in one clear sentence with its path, within a second and 200 MB."""

import pytest

from tests.faults.bounded_runs import endings, not_clear

WITHIN_BOUNDS = {"document: many mixes", "document: brackets in text", "context: many earlier ones"}


@pytest.mark.long
def test_hostile_documents_are_refused_in_a_clear_sentence():
    found = endings("documents", "small")
    assert len(found) > 350 and not not_clear(found)
    whole = [one for one in found if one["name"].startswith(("document: ", "context: "))]
    assert {one["name"] for one in whole if one["ended"] == "read"} == WITHIN_BOUNDS
    assert all(one["says"] for one in found if one["ended"] == "refused")


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4))
def test_changed_documents_are_refused_or_checked(seed):
    found = endings("documents", str(seed), "2000")
    assert len(found) == 2000 and not not_clear(found)
    assert {one["ended"] for one in found} == {"read", "refused"}
