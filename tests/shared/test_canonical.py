import json

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from shared.canonical import NotCanonicalError, canonical_bytes

_TEXT = st.text(st.characters(exclude_categories=["Cs"]))
_JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | _TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_TEXT, inner, max_size=4),
    max_leaves=20,
)


@given(_JSON)
def test_canonical_bytes_are_json_of_the_same_value(value):
    assert json.loads(canonical_bytes(value)) == value


@given(_JSON | st.dictionaries(st.sampled_from("abAB_\u00e9\uffee\U0001f600"), _JSON))
def test_canonical_bytes_are_those_of_the_reference_library(value):
    """Keys sort by UTF-16 code units (RFC 8785, section 3.2.3): U+1F600 before U+FFEE."""
    assert canonical_bytes(value) == rfc8785.dumps(value)


@given(st.dictionaries(_TEXT, _JSON, max_size=6), st.randoms())
def test_the_order_of_keys_does_not_matter(value, shuffle):
    pairs = list(value.items())
    shuffle.shuffle(pairs)
    assert canonical_bytes(dict(pairs)) == canonical_bytes(value)


@pytest.mark.parametrize("value", [1.5, [1.0], [{"é": 1}, 1.0], {"a": {"b": (2, 0.1)}}, float("nan")])
def test_a_float_is_refused_wherever_it_stands(value):
    with pytest.raises(NotCanonicalError, match="write it as text"):
        canonical_bytes(value)


@pytest.mark.parametrize(
    "value", [2**53, {1: "a"}, {"a": b"x"}, "\ud800", {"\ud800": 1}, {"a": {1, 2}}, {"é": 1, 2: 3}]
)
def test_what_json_cannot_carry_between_machines_is_refused(value):
    with pytest.raises(NotCanonicalError):
        canonical_bytes(value)
