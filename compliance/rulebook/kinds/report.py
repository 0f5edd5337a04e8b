"""Kind `report`: periodic use reports. It never judges; it carries the day on which the report is due."""

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Self

from compliance.rulebook.errors import RuleError
from compliance.rulebook.facts import Scope
from compliance.rulebook.kind import Judgement, Kind
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, as_count, as_month_day, as_wording, as_yes_no, each, one_of
from compliance.rulebook.report_form import ReportForm, read_report_form
from shared.days import day_of_month
from shared.wording import Blank, Wording


@dataclass(frozen=True)
class Report(Kind):
    """Doesn't apply to a document as such: it says of which period a report is due, and when.

    `month` None: the report of a month, due on `day` of the next one (its last day, if it is shorter); else
    that of a calendar year, due on that day of the next year. `fields` are what the report states, `form` how
    its figures are worked out. `unless`: the answer to an open question by which none is owed.
    """

    name = "report"
    judges = ("document",)
    judging = False
    wordings = {
        "report/due": Wording(
            "The report for {period} to {to} is due {due}. {nil}",
            "El informe de {period} para {to} vence el {due}. {nil}",
        ),
        "report/unknown": Wording(
            "A report to {to} is due; for which period can't be told, because this is not stated: {members}.",
            "Se debe un informe para {to}; no se sabe de qué periodo, porque no consta: {members}.",
        ),
    }

    to: Wording
    month: int | None
    day: int
    nil: bool
    fields: tuple[Wording, ...]
    form: ReportForm
    unless: tuple[str, str] | None = None

    @classmethod
    def read(cls, params: Params) -> Self:
        monthly = params.value("period", one_of(("month", "year"))) == "month"
        month, day = (
            (None, params.value("due", _day_of_month)) if monthly else params.value("due", as_month_day)
        )
        return cls(
            params.value("to", as_wording),
            month,
            day,
            params.maybe("nil", as_yes_no) or False,
            params.maybe("fields", each(as_wording)) or (),
            params.maybe("form", lambda raw: read_report_form(params.inner(raw))) or ReportForm(),
            params.maybe("unless", lambda raw: _answer(params.inner(raw))),
        )

    def judge(self, scope: Scope) -> Judgement:
        day = scope.facts.day
        if day is None:
            about = scope.facts.day_lacks
            return Judgement(Outcome.NOT_APPLICABLE, "report/unknown", about, {"to": self.to})
        last = self.due_after(day)
        blanks: dict[str, Blank] = {"to": self.to, "due": last.isoformat(), "nil": self._nil()}
        blanks["period"] = f"{day:%Y}" if self.month else f"{day:%Y-%m}"
        due = scope.facts.local(datetime.combine(last, time(23, 59, 59)))
        return Judgement(Outcome.NOT_APPLICABLE, "report/due", ("timing.started_at",), blanks, due=due)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.NOT_APPLICABLE})

    @property
    def monthly(self) -> bool:
        return self.month is None

    def due_after(self, day: date) -> date:
        """When the report is due of the period that holds this day."""
        if self.month:
            return day_of_month(day.year + 1, self.month, self.day)
        return day_of_month(day.year + day.month // 12, day.month % 12 + 1, self.day)

    def _nil(self) -> Wording:
        if not self.nil:
            return Wording("", "")
        return Wording(
            "A period without work needs a report, too.", "También se informa de un periodo sin trabajos."
        )


def _answer(part: Params) -> tuple[str, str]:
    """`{question: …, is: "yes"}`."""
    questions = part.setting.questions
    question = part.value("question", one_of(questions))
    answer = question, part.value("is", one_of(questions[question]))
    part.done()
    return answer


def _day_of_month(raw: object) -> int:
    day = as_count(raw)
    if not 1 <= day <= 31:
        raise RuleError("rule/bad_duration", {"got": str(day), "example": "10"})
    return day
