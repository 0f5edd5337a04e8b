"""The packs in force for the firm's places, each rule by rule, and the table of what they cover."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse

from compliance.coverage import LABELS, MEANS, Row, coverage
from compliance.models import PackVersion
from compliance.pack_examples import registered_examples
from compliance.pack_reader import registered_packs
from compliance.pages.rules.base import RulesPage
from compliance.plain_words import RuleSheet, rule_sheets
from compliance.plain_words.examples import ShownExample, shown
from compliance.rulebook.pack import Pack
from compliance.rulebook.topics import TOPICS
from compliance.selectors import packs_for


@dataclass(frozen=True)
class PackHead:
    """A pack without its rules, in one language."""

    pack: Pack
    title: str
    authority: str
    caution: str
    means: str
    leaves_out: Sequence[str]
    reminders: Sequence[tuple[str, str]]
    questions: Sequence[str]


def head_of(pack: Pack, language: str) -> PackHead:
    return PackHead(
        pack,
        pack.title.say(language),
        pack.authority.say(language) if pack.authority else "",
        pack.caution.say(language),
        MEANS[pack.by_means or "memory"].say(language),
        [said.say(language) for said in pack.leaves_out],
        [(reminder.says.say(language), reminder.cite) for reminder in pack.reminders],
        [question.asks.say(language) for question in pack.questions.values()],
    )


@dataclass(frozen=True)
class ShownRule:
    sheet: RuleSheet
    examples: Sequence[ShownExample]


class Rules(RulesPage):
    template_name = "compliance/rules/overview.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        bearing = packs_for(self.firm, self.today)
        return self.page(
            in_force=[head_of(pack, self.language) for pack in bearing.in_force],
            others=[head_of(pack, self.language) for pack in bearing.others],
            not_covered=bearing.not_covered,
        )


class PackPage(RulesPage):
    template_name = "compliance/rules/pack.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        pack = next((one for one in registered_packs() if one.id == kwargs["pack"]), None)
        if pack is None:
            raise Http404("no such pack")
        sheets = rule_sheets(pack, self.language)
        return self.page(
            head=head_of(pack, self.language),
            rules=[ShownRule(sheet, self._examples(pack, sheet.id)) for sheet in sheets],
            in_force=pack in packs_for(self.firm, self.today).in_force,
            kept=PackVersion.objects.filter(pack=pack.id).count(),
        )

    def _examples(self, pack: Pack, rule: str) -> list[ShownExample]:
        examples = registered_examples()[pack.id]
        return [shown(example, rule, self.language) for example in examples if rule in example.expect]


class Coverage(RulesPage):
    template_name = "compliance/rules/coverage.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        in_force = packs_for(self.firm, self.today).in_force
        rows = sorted(coverage(registered_packs()), key=lambda row: row.pack not in in_force)
        topics = {topic: LABELS[topic].say(self.language) for topic in TOPICS}
        return self.page(topics=topics.values(), rows=[self._row(row, row.pack in in_force) for row in rows])

    def _row(self, row: Row, in_force: bool) -> dict[str, Any]:
        said = {topic: LABELS[topic].say(self.language) for topic in TOPICS}
        return {
            "head": head_of(row.pack, self.language),
            "in_force": in_force,
            "cells": [(said[cell.topic], cell) for cell in row.cells],
            "lacking": [said[topic] for topic in row.lacking],
            "sources": row.pack.sources.values(),
        }
