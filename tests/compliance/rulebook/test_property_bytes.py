"""The same input gives the same bytes: again, whatever the order of the packs, and in another process."""

import json
import os
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compliance.check import Check, check_document
from compliance.pack_reader import registered_packs
from records.document.context import read_context
from records.document.reader import read
from shared.canonical import canonical_bytes
from tests.compliance.patched import FIXTURES
from tests.compliance.rulebook.situations import FEW, MANY, Situation, named, situations

ROOT = FIXTURES.parent
PLACES = [{"jurisdictions": places} for places in (["us", "us-wa"], ["us", "us-or"], ["eu", "gb"])]


def bytes_of(check: Check) -> tuple[bytes, str, str]:
    printed = [json.dumps(check.to_json(language), ensure_ascii=False) for language in ("en", "es")]
    return canonical_bytes(check.stored()), printed[0], printed[1]


def in_any_order(situation: Situation, order: list[int], places: dict[str, list[str]] | None) -> None:
    parts = situation.parts
    if places and parts["document"].get("site"):
        parts["document"]["site"] |= places
    document, context = read(parts["document"]), read_context(parts["context"])
    packs = registered_packs()
    again = [packs[index] for index in order]
    usual = bytes_of(check_document(document, context))
    assert bytes_of(check_document(document, context, packs=again)) == usual


ORDERS = st.permutations(range(len(registered_packs())))


@FEW
@given(st.sampled_from(named()), ORDERS, st.none() | st.sampled_from(PLACES))
def test_the_order_in_which_packs_are_loaded_changes_no_byte(situation, order, places):
    in_any_order(situation, order, places)


@pytest.mark.long
@MANY
@given(st.sampled_from(situations()), ORDERS, st.none() | st.sampled_from(PLACES))
def test_the_order_of_packs_changes_no_byte_of_any_example(situation, order, places):
    in_any_order(situation, order, places)


def test_another_process_prints_the_same_bytes():
    """Python's hashes of text differ from process to process, and with them the order in sets."""
    documents = FIXTURES / "documents"
    files = [documents / "full.json", "--context", documents / "example-context.json"]
    runs = [
        subprocess.run(
            [sys.executable, "manage.py", "check_treatment", *files, "--json"],
            cwd=ROOT,
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=False,
        )
        for seed in ("1", "2")
    ]
    assert runs[0].stdout == runs[1].stdout != b""
    assert {run.returncode for run in runs} <= {0, 1}
