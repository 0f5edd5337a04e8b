"""The JSON Canonicalization Scheme. Source: RFC 8785 and the test data published beside it by its authors."""

import hashlib
import json
import random
import struct
from pathlib import Path

import pytest
import rfc8785

from shared.canonical import NotCanonicalError, canonical_bytes

_VECTORS = json.loads(
    (Path(__file__).parents[2] / "fixtures/vectors/rfc8785/vectors.json").read_text("utf-8")
)
_BY_NAME = {vector["name"]: vector for vector in _VECTORS["vectors"]}


def parsed(vector: dict[str, str]) -> object:
    """The vector's value; a whole number written with a point (56.0) as the integer that it is."""
    return json.loads(
        vector["input"], parse_float=lambda text: int(float(text)) if text.endswith(".0") else float(text)
    )


@pytest.mark.parametrize("name", ["arrays", "french", "structures", "unicode", "weird"])
def test_a_value_without_fractions_comes_out_as_the_published_bytes(name):
    canonical = canonical_bytes(parsed(_BY_NAME[name]))
    assert canonical == _BY_NAME[name]["canonical"].encode()
    assert hashlib.sha256(canonical).hexdigest() == _BY_NAME[name]["sha256"]


def test_fractions_come_out_right_in_the_library_that_we_stand_on_but_we_refuse_them():
    value = parsed(_BY_NAME["values"])
    assert rfc8785.dumps(value) == _BY_NAME["values"]["canonical"].encode()
    assert hashlib.sha256(rfc8785.dumps(value)).hexdigest() == _BY_NAME["values"]["sha256"]
    with pytest.raises(NotCanonicalError):
        canonical_bytes(value)


@pytest.mark.parametrize("number", _VECTORS["numbers"], ids=lambda number: number["text"])
def test_the_library_writes_numbers_as_ecmascript_does(number):
    (value,) = struct.unpack(">d", bytes.fromhex(number["ieee754"]))
    assert rfc8785.dumps(value) == number["text"].encode()


def test_keys_come_out_in_one_order_however_they_were_shuffled():
    value = parsed(_BY_NAME["weird"])
    shuffle = random.Random(8785)
    for _ in range(1000):
        pairs = list(value.items())
        shuffle.shuffle(pairs)
        assert hashlib.sha256(canonical_bytes(dict(pairs))).hexdigest() == _BY_NAME["weird"]["sha256"]
