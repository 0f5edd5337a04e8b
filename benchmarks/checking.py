"""Checking a document: the rules of one address against the same findings by plain Python, same facts.

Reading, facts and digests are timed apart; sentences are made on demand, by both.
"""

import json
from collections.abc import Iterator, Sequence
from copy import deepcopy
from dataclasses import replace
from datetime import date
from typing import Any

from benchmarks import by_hand, json_rules
from benchmarks.timing import Ratio, alone, compare
from compliance.check import check_document
from compliance.facts_reader import VOCABULARY, read_facts
from compliance.label_pack import label_packs
from compliance.pack_reader import registered_packs
from compliance.rulebook.evaluate import judge
from compliance.rulebook.facts import Facts
from compliance.rulebook.finding import Basis, Finding
from compliance.rulebook.layers import unlawful
from compliance.rulebook.limits import limits_in_force, strictest_of
from compliance.rulebook.ordering import in_order
from compliance.rulebook.pack import Pack
from compliance.rulebook.places import covering
from records.document.canonical import digest_of
from records.document.context import Context
from records.document.reader import read
from records.document.types import TreatmentDocument


def ratios(document: dict[str, Any], context: Context) -> Iterator[Ratio]:
    text, parsed = json.dumps(document), read(document)
    facts = read_facts(parsed, context, None)
    packs, here = registered_packs(), applying(facts)
    many = tenfold(packs)
    bases = bases_of([*here, *label_packs(parsed)], facts.day)
    for each in (parsed, read(damaged(document))):
        both_agree(each, context, bases)
    checked = compare(
        "a check from the facts, all packs loaded",
        lambda: by_engine(parsed, facts, packs),
        "the same findings by hand",
        lambda: by_hand.find(facts, bases),
    )
    yield checked
    yield compare(
        "the same, all packs loaded",
        lambda: by_engine(parsed, facts, packs),
        f"only the {len(here)} of {len(packs)} packs loaded that apply",
        lambda: by_engine(parsed, facts, here),
    )
    yield compare(
        "the same, ten times the packs loaded",
        lambda: by_engine(parsed, facts, many),
        "all packs loaded once",
        lambda: by_engine(parsed, facts, packs),
    )
    yield compare(
        "the same, twice the rules apply",
        lambda: by_engine(parsed, facts, (*here, *here)),
        "the rules apply once",
        lambda: by_engine(parsed, facts, here),
    )
    yield json_rules.ratio(facts)
    yield alone("facts of a document", lambda: read_facts(parsed, context, None))
    yield alone("reading a document", lambda: read(text))
    yield alone("digests of document and context", lambda: (digest_of(parsed), digest_of(context)))
    yield alone("sentences of the findings, both languages", lambda: said(by_engine(parsed, facts, packs)))
    yield alone("the whole check: facts, all packs, label, digests", lambda: check_document(parsed, context))


def applying(facts: Facts) -> tuple[Pack, ...]:
    return tuple(covering(registered_packs(), facts.places or (), facts.day))


def tenfold(packs: Sequence[Pack]) -> list[Pack]:
    """The packs, and nine times as many of places where nobody works."""
    elsewhere = ((number, pack) for number in range(9) for pack in packs)
    return [*packs, *(replace(pack, id=f"{pack.id}-{n}", place=f"x{n}-{pack.place}") for n, pack in elsewhere)]


def bases_of(packs: Sequence[Pack], day: date | None) -> dict[str, Basis]:
    """Title, level, paragraph and the like of every rule, which the hand-written check does not write out."""
    return {standing.basis.rule: standing.basis for pack in packs for standing in pack.timetable.on(day)}


def by_engine(document: TreatmentDocument, facts: Facts, packs: Sequence[Pack]) -> list[Finding]:
    """What `check_document` does between reading the facts and computing digests."""
    laws = covering(packs, facts.places or (), facts.day)
    judged = judge([*laws, *label_packs(document)], facts, VOCABULARY)
    strictest = strictest_of(judged)
    limits_in_force(strictest)
    of_all = unlawful(strictest, VOCABULARY)
    return in_order([*judged.findings, *of_all]) if of_all else judged.findings


def said(findings: Sequence[Finding]) -> list[str]:
    return [finding.message.say(language) for finding in findings for language in ("en", "es")]


def damaged(document: dict[str, Any]) -> dict[str, Any]:
    """The same treatment without a wind direction, and written down on the day after."""
    wrong = deepcopy(document)
    del wrong["weather"]["readings"][0]["wind_from"]
    wrong["timing"]["recorded_at"] = "2026-09-15T07:30:00-07:00"
    return wrong


def both_agree(document: TreatmentDocument, context: Context, bases: dict[str, Basis]) -> None:
    """Every finding is the same, to the last word that is stored of it."""
    facts = read_facts(document, context, None)
    ours = [finding.stored() for finding in by_engine(document, facts, registered_packs())]
    theirs = [finding.stored() for finding in by_hand.find(facts, bases)]
    differing = [pair for pair in zip(ours, theirs, strict=False) if pair[0] != pair[1]]
    assert ours == theirs, differing[:1] or (len(ours), len(theirs))
