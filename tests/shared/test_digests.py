import hashlib

import pytest

from shared.canonical import NotCanonicalError
from shared.digests import digest, salted_section_digest


def test_a_digest_names_its_algorithm():
    assert digest(b"roof") == "sha256:" + hashlib.sha256(b"roof").hexdigest()


def test_a_section_is_bound_with_its_name_and_its_salt():
    expected = hashlib.sha256(b'["customer","5a17",{"name":"A. Marlowe"}]').hexdigest()
    assert salted_section_digest("customer", "5a17", {"name": "A. Marlowe"}) == f"sha256:{expected}"


@pytest.mark.parametrize(
    ("name", "salt", "section"),
    [
        ("people", "5a17", {"name": "A"}),
        ("customer", "5a18", {"name": "A"}),
        ("customer", "5a17", {"name": "B"}),
    ],
)
def test_another_name_salt_or_section_gives_another_digest(name, salt, section):
    assert salted_section_digest(name, salt, section) != salted_section_digest(
        "customer", "5a17", {"name": "A"}
    )


def test_a_section_with_a_float_has_no_digest():
    with pytest.raises(NotCanonicalError):
        salted_section_digest("site", "5a17", {"distance": 2.5})
