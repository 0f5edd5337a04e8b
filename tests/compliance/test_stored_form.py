"""What is stored compactly is stored without loss."""

from hypothesis import given
from hypothesis import strategies as st

from compliance.check import check_document
from compliance.stored_form import compressed, plain, thickened, thinned, unsqueezed
from records.document.context import read_context
from records.document.reader import read
from shared.canonical import canonical_bytes
from tests.compliance.patched import load

ITEM = st.dictionaries(st.sampled_from("abc"), st.text(max_size=3) | st.none(), max_size=2)
ITEMS = st.lists(ITEM, max_size=5)
CHECKS = st.fixed_dictionaries({"outcome": st.text(max_size=3), "findings": ITEMS, "limits": ITEMS})


def stored(document: str) -> dict:
    context = read_context(load("documents/example-context.json"))
    return check_document(read(load(f"documents/{document}.json")), context).stored()


def test_a_stored_check_takes_a_fifth_at_most_and_loses_nothing():
    check = stored("full")
    kept = compressed(check)
    assert plain(kept) == check
    assert unsqueezed(kept) == canonical_bytes(check)
    assert len(kept) < len(canonical_bytes(check)) / 5


def test_a_check_that_differs_in_little_is_told_in_little():
    check = stored("full")
    other = {**check, "findings": check["findings"][1:]}
    assert thickened(plain(compressed(thinned(other, check))), check) == other
    assert len(compressed(thinned(other, check))) < len(compressed(other)) / 10


@given(CHECKS, CHECKS)
def test_thinning_against_any_base_loses_nothing(check, base):
    assert thickened(thinned(check, base), base) == check
