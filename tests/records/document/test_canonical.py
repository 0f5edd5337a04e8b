import hashlib
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.document.canonical import as_json, canonical, digest_of
from records.document.reader import read
from tests.records.document.documents import NAMES, changed, document


def shuffled(value: Any, shuffle) -> Any:
    """The value with the keys of every object in another order."""
    if isinstance(value, dict):
        names = list(value)
        shuffle.shuffle(names)
        return {name: shuffled(value[name], shuffle) for name in names}
    if isinstance(value, list):
        return [shuffled(item, shuffle) for item in value]
    return value


def without_nulls(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: without_nulls(member) for name, member in value.items() if member is not None}
    return [without_nulls(item) for item in value] if isinstance(value, list) else value


@pytest.mark.parametrize("name", NAMES)
def test_the_canonical_form_is_the_document_without_nulls_as_rfc_8785_writes_it(name):
    """RFC 8785 and json.dumps agree where names are ASCII and no number has a fraction."""
    plain = without_nulls(document(name))
    expected = json.dumps(plain, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()
    assert canonical(read(document(name))) == expected
    assert digest_of(read(document(name))) == "sha256:" + hashlib.sha256(expected).hexdigest()


@pytest.mark.parametrize("name", NAMES)
def test_the_canonical_form_reads_as_the_same_document(name):
    once = read(document(name))
    assert read(canonical(once)) == once
    assert canonical(read(canonical(once))) == canonical(once)


@given(st.sampled_from(NAMES), st.randoms())
def test_the_order_of_members_does_not_change_the_digest(name, shuffle):
    assert digest_of(read(shuffled(document(name), shuffle))) == digest_of(read(document(name)))


_TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=40).filter(str.strip)
_VALUES = st.from_regex(r"(0|[1-9][0-9]{0,11})(\.[0-9]{1,9})?", fullmatch=True)


@given(name=_TEXT, notes=_TEXT, value=_VALUES, targets=st.lists(st.sampled_from(["moss", "algae"])))
def test_any_document_that_reads_comes_back_the_same_from_its_canonical_form(name, notes, value, targets):
    members = {
        "customer.name": name,
        "notes": notes,
        "mixes[0].applied": {"value": value, "unit": "gal"},
        "targets": targets,
    }
    once = read(changed(members))
    assert read(canonical(once)) == once
    assert as_json(once)["mixes"][0]["applied"] == {"value": value, "unit": "gal"}


def test_digits_are_kept_as_typed():
    assert digest_of(read(changed({"mixes[0].applied.value": "14.0"}))) != digest_of(read(document()))


def test_a_member_that_is_null_and_one_left_out_are_the_same_document_but_an_empty_list_is_another():
    left_out = {name: value for name, value in document().items() if name != "permits"}
    assert digest_of(read({**left_out, "permits": None})) == digest_of(read(left_out))
    assert digest_of(read({**left_out, "permits": []})) != digest_of(read(left_out))
