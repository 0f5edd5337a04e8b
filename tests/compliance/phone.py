"""What a phone has to tell of a treatment: by the shared table of cases, and by the server's full check."""

from dataclasses import dataclass, field
from typing import Any

from compliance.check import Check, check_document
from compliance.facts_reader import VOCABULARY
from compliance.phone_sheet import limits_and_musts
from compliance.rulebook.finding import Finding
from compliance.rulebook.pack import Pack, read_pack
from records.document.context import read_context
from records.document.reader import read
from tests.compliance.patched import load, patched

Json = dict[str, Any]

TABLE = load("vectors/limits_and_musts.json")
TOLD = {"record/not_met": "missing", "limit/above": "not_met", "limit/below": "not_met"}


@dataclass(frozen=True)
class Case:
    """`known`: the document when the sheet was made; `typed`: as it stands on the phone since.

    `expected`: what the phone tells; `left`: what only the server does. `others`: product lines that the phone
    keeps the labels of besides; `untold`: what it says that it does not know.
    """

    name: str
    known: Json
    typed: Json
    context: Json
    expected: list[Json]
    left: list[Json]
    policy: Pack | None = None
    others: tuple[Json, ...] = ()
    untold: Json = field(default_factory=dict)

    def _repr_pretty_(self, printer: Any, _cycle: bool) -> None:
        printer.text(self.name)

    def sheet(self) -> Json:
        document, context = read(self.known), read_context(self.context)
        return limits_and_musts(self._check(self.known).packs, document, context, self.others)

    def told_by_server(self, language: str = "en") -> list[Json]:
        """What the full check says of the typed document, by the rules that are on the sheet."""
        sheet = self.sheet()
        of_labels = (limit for label in sheet["labels"] for limit in label["limits"])
        rules = {one["rule"] for one in (*sheet["limits"], *of_labels, *sheet["musts"])}
        findings = [one for one in self._check(self.typed).findings if one.rule in rules]
        return in_order(_told(one, language) for one in findings if one.judgement.wording in TOLD)

    def _check(self, document: Json) -> Check:
        return check_document(read(document), read_context(self.context), firm_policy=self.policy)


def cases() -> list[Case]:
    """The shared table."""
    example, context = load("documents/example.json"), load("documents/example-context.json")
    own = read_pack(TABLE["own_rules"]["pack"], TABLE["own_rules"]["rules"], VOCABULARY, "firm")
    return [
        Case(
            name=one["name"],
            known=(known := patched(example, one.get("known", {}))),
            typed=patched(known, one["typed"]),
            context=context,
            expected=in_order(one["expected"]),
            left=one.get("left_to_server", []),
            policy=own if one.get("own") else None,
            others=tuple(one.get("others", ())),
            untold=one.get("untold", {}),
        )
        for one in TABLE["cases"]
    ]


def in_order(told: Any) -> list[Json]:
    return sorted(told, key=lambda one: (one["rule"], one["path"]))


def marks(told: list[Json]) -> list[Json]:
    """What is told without its words."""
    return [{name: one[name] for name in ("rule", "path", "state")} for one in told]


def _told(finding: Finding, language: str) -> Json:
    said = finding.message
    if finding.to_do:
        said = finding.blanks["what"]
    return {
        "rule": finding.rule,
        "about": list(finding.about),
        "path": finding.about[0],
        "state": TOLD[finding.judgement.wording],
        "words": said.say(language),
    }
