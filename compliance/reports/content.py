"""A report as plain data: what is asked by whom for which time, and every figure with the records behind it.

Pages, paper and CSV are made from it alone, before it is filed and after.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from compliance.reports.periods import Period
from compliance.rulebook.kinds.report import Report
from compliance.rulebook.pack import Pack
from compliance.rulebook.report_form import ReportForm
from compliance.rulebook.rule import Rule
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.wording import Wording

Json = dict[str, Any]
SCHEMA = "use-report/1"
OWN = "own/summary"
"""Stands for a rule where the report is for the firm alone."""
_OWN_TITLE = Wording("Summary for the firm", "Resumen para la empresa")


@dataclass(frozen=True)
class ReportDuty:
    """A rule that asks for a report."""

    pack: Pack
    rule: Rule
    kind: Report

    @property
    def key(self) -> str:
        return self.rule.id

    @property
    def form(self) -> ReportForm:
        return self.kind.form

    @property
    def cite(self) -> str:
        return self.rule.all_duties[-1].cite


def own_form(metric: bool) -> ReportForm:
    """What a firm is told of its own use."""
    return ReportForm(("product",), ("L", "kg") if metric else ("gal", "lb"), kinds=("pesticide", "adjuvant"))


def content_of(
    duty: ReportDuty | None, form: ReportForm, period: Period, county: str, firm: Json, sums: Json
) -> Json:
    """The whole of a report. `duty` None: it is for the firm alone."""
    return {
        "schema": SCHEMA,
        **(_asked(duty, period.last) if duty else {"rule": OWN, "title": _said(_OWN_TITLE)}),
        "period": str(period),
        "from": period.first.isoformat(),
        "to": period.last.isoformat(),
        "county": county,
        "form": {
            "units": list(form.units),
            "litre": None if form.litre is None else str(form.litre),
            "kinds": list(form.kinds),
            "uses": list(form.uses),
            "applications": form.applications,
        },
        "firm": firm,
        **sums,
    }


def digest_of(content: Json) -> str:
    """The digest of a report."""
    return digest(canonical_bytes(content))


def figures_of(content: Json) -> list[Any]:
    """What it says, whichever records it says it of."""
    return [
        (table["name"], line["cells"], line["unit"], line["exact"], line["applications"])
        for table in content["tables"]
        for line in table["lines"]
    ]


def table_of(content: Json, name: str) -> Json | None:
    """The table of this name, if it has one."""
    tables: list[Json] = content["tables"]
    return next((table for table in tables if table["name"] == name), None)


def _asked(duty: ReportDuty, last: date) -> Json:
    rule, pack, kind = duty.rule, duty.pack, duty.kind
    return {
        "rule": rule.id,
        "title": _said(rule.title),
        "asked_by": _said(kind.to),
        "cite": duty.cite,
        "text": rule.text,
        "doubt": _said(rule.doubt) if rule.doubt else None,
        "pack": {"id": pack.id, "version": pack.version, "digest": pack.digest},
        "due": kind.due_after(last).isoformat(),
        "nil": kind.nil,
        "fields": [_said(each) for each in kind.fields],
    }


def _said(wording: Wording) -> Mapping[str, str]:
    return {"en": wording.en, "es": wording.es}
