"""Checking a document: Washington's pack against the same findings by plain Python, from the same facts.

Reading, facts and digest are timed apart, and so is the whole check with all packs and the label.
"""

import json
from copy import deepcopy
from typing import Any

from benchmarks import washington_by_hand
from benchmarks.timing import Ratio, alone, compare
from benchmarks.washington_by_hand import Said
from compliance.check import check_document
from compliance.facts_reader import VOCABULARY, read_facts
from compliance.pack_reader import registered_packs
from compliance.rulebook.evaluate import judge
from compliance.rulebook.facts import Facts
from records.document.canonical import digest_of
from records.document.context import Context
from records.document.reader import read


def ratios(document: dict[str, Any], context: Context) -> list[Ratio]:
    text = json.dumps(document)
    parsed = read(text)
    facts = read_facts(parsed, context, None)
    for each in (document, damaged(document)):
        both_agree(read_facts(read(each), context, None))
    return [
        alone("reading a document", lambda: read(text)),
        alone("facts of a document", lambda: read_facts(parsed, context, None)),
        compare(
            "Washington's pack on those facts",
            lambda: by_engine(facts),
            "the same findings by hand",
            lambda: washington_by_hand.find(facts),
        ),
        alone("digest of a document", lambda: digest_of(parsed)),
        alone("the whole check: facts, all packs, label, digests", lambda: check_document(parsed, context)),
    ]


def by_engine(facts: Facts) -> list[Said]:
    washington = [pack for pack in registered_packs() if pack.id == "us-wa"]
    found = sorted(judge(washington, facts, VOCABULARY).findings, key=lambda finding: finding.place)
    return [Said(f.rule, str(f.outcome), f.about, f.message.say("en"), f.message.say("es")) for f in found]


def damaged(document: dict[str, Any]) -> dict[str, Any]:
    """The same treatment without a wind direction, and written down on the day after."""
    wrong = deepcopy(document)
    del wrong["weather"]["readings"][0]["wind_from"]
    wrong["timing"]["recorded_at"] = "2026-09-15T07:30:00-07:00"
    return wrong


def both_agree(facts: Facts) -> None:
    ours, by_hand = by_engine(facts), washington_by_hand.find(facts)
    assert ours == by_hand, set(ours) ^ set(by_hand)
