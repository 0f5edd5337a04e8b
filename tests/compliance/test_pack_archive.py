"""Packs that were kept are read again as the very same packs."""

from dataclasses import replace
from datetime import date

import pytest

from compliance.check import check_document
from compliance.own_rules import OwnRule, own_pack
from compliance.pack_archive import ArchiveError, keep, restore
from compliance.pack_reader import registered_packs
from compliance.rulebook.errors import RuleError
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.pack import Pack
from records.document.context import read_context
from records.document.reader import read
from shared.canonical import canonical_bytes
from tests.compliance.patched import load
from tests.compliance.rulebook.builders import HEAD, WIND, pack, rule

DOCUMENTS = ("full", "example", "metric", "stood-down")
QUESTIONS = {f"xx/question/{name}": HEAD["questions"]["xx/question/roofs"] for name in ("walks", "roofs")}


def policy() -> Pack:
    rule = OwnRule("1", "Calm only", "", "limit", {"quantity": "wind_speed", "max": "8 mph"})
    made = own_pack([rule], "1", "Quillfeather Exterior Care", date(2026, 9, 1))
    assert made is not None
    return made


def stored(document: str, packs: tuple[Pack, ...], policy: Pack | None = None) -> bytes:
    context = read_context(load("documents/example-context.json"))
    check = check_document(read(load(f"documents/{document}.json")), context, packs=packs, firm_policy=policy)
    return canonical_bytes(check.stored())


@pytest.mark.parametrize("document", DOCUMENTS)
def test_restored_packs_say_the_same_to_the_byte(document):
    packs = registered_packs()
    restored = tuple(restore(keep(each)) for each in packs)
    assert not set(map(id, packs)) & set(map(id, restored))
    assert [each.digest for each in restored] == [each.digest for each in packs]
    assert [each.layer for each in restored] == [each.layer for each in packs]
    assert stored(document, restored, restore(keep(policy()))) == stored(document, packs, policy())


def test_the_order_in_which_a_file_names_its_questions_changes_nothing():
    """Two files with one digest are one pack, so that nothing may hang on the order of their keys."""
    orders = QUESTIONS.items(), reversed(QUESTIONS.items())
    packs = [pack(rule(**WIND), questions=dict(order)) for order in orders]
    assert packs[0].digest == packs[1].digest
    assert stored("example", (packs[0],)) == stored("example", (packs[1],))


def test_a_kept_pack_that_was_tampered_with_is_refused():
    kept = keep(pack(rule(**WIND)))
    looser = replace(kept, content=kept.content.replace(b"10 mph", b"90 mph"))
    with pytest.raises(ArchiveError, match=kept.digest):
        restore(looser)


def test_a_kind_that_was_retired_is_read_from_the_archive_only(monkeypatch):
    kept = keep(pack(rule(**WIND)))
    monkeypatch.setattr(Limit, "retired", True)
    with pytest.raises(RuleError, match="retired"):
        pack(rule(**WIND))
    assert [each.id for each in restore(kept).rules] == ["xx/wind"]


def test_a_pack_without_content_cannot_be_kept():
    with pytest.raises(ArchiveError, match="xx 1"):
        keep(replace(pack(rule(**WIND)), content=b""))
