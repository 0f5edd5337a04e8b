"""Open questions: what hangs on each, and the firm's own dated answers."""

from dataclasses import dataclass
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.determinations import rules_by_question
from compliance.models import Determination
from compliance.pages.rules.base import RulesPage
from compliance.plain_words import RuleSheet, rule_sheets
from compliance.rulebook.pack import Pack, Question
from compliance.selectors import answers_to, holding, questions_for
from compliance.services.determinations import determine
from records.forms.dates import DayField
from records.permissions import demand

_DAY = {"type": "date"}


def answer_word(answer: str) -> str:
    """An answer as a person reads it."""
    return {"yes": _("yes"), "no": _("no")}.get(answer, answer)


class AnswerForm(forms.Form):
    """The firm's answer to one question."""

    answer = forms.ChoiceField(label=gettext_lazy("Answer"), widget=forms.RadioSelect)
    by = forms.CharField(label=gettext_lazy("Decided by"), max_length=200)
    advice = forms.CharField(
        label=gettext_lazy("On whose advice"),
        help_text=gettext_lazy("Who said so, when and how. Keep the letter."),
        max_length=2000,
        required=False,
        widget=forms.Textarea({"rows": 2}),
    )
    valid_from = DayField(label=gettext_lazy("First day"), widget=forms.DateInput(_DAY))
    valid_to = DayField(
        label=gettext_lazy("Last day, if it is known"), required=False, widget=forms.DateInput(_DAY)
    )

    def __init__(self, question: Question, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(answer, answer_word(answer)) for answer in question.answers]
        self.fields["answer"].choices = choices  # type: ignore[attr-defined]


@dataclass(frozen=True)
class ShownQuestion:
    """A question in one language, with the firm's answer of today."""

    question: Question
    pack: Pack
    pack_title: str
    asks: str
    hangs_on_it: str
    ask_whom: str
    answer: Determination | None
    answer_word: str
    rules: list[RuleSheet]


class Questions(RulesPage):
    template_name = "compliance/rules/questions.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        asked = questions_for(self.firm, self.today)
        return self.page(questions=[self.shown(pack, question) for pack, question in asked])

    def shown(self, pack: Pack, question: Question) -> ShownQuestion:
        language = self.language
        hanging = rules_by_question(pack).get(question.id, frozenset())
        answer = holding(answers_to(self.firm, question.id), self.today)
        return ShownQuestion(
            question,
            pack,
            pack.title.say(language),
            question.asks.say(language),
            question.hangs_on_it.say(language),
            question.ask_whom.say(language),
            answer,
            answer_word(answer.answer) if answer else "",
            [sheet for sheet in rule_sheets(pack, language) if sheet.id in hanging],
        )


class QuestionPage(Questions):
    """One question, its answers of all times, and the form for a new one."""

    template_name = "compliance/rules/question.html"

    @cached_property
    def asked(self) -> tuple[Pack, Question]:
        for pack, question in questions_for(self.firm, self.today):
            if question.id == self.kwargs["question"]:
                return pack, question
        raise Http404("no such question in force")

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        initial = {"by": self.request.user.name, "valid_from": self.today}
        return self._answered(AnswerForm(self.asked[1], initial=initial))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        demand(request.user, "compliance.edit_rules", self.firm)
        form = AnswerForm(self.asked[1], request.POST)
        if not form.is_valid():
            return self._answered(form, 422)
        try:
            determine(self.firm, self.asked[1].id, **form.cleaned_data)
        except ValidationError as error:
            form.add_error(None, error)
            return self._answered(form, 422)
        return redirect(request.path)

    def _answered(self, form: AnswerForm, status: int = 200) -> HttpResponse:
        pack, question = self.asked
        changes = [
            (past, answer_word(past.answer))
            for row in answers_to(self.firm, question.id)
            for past in row.history.all()
        ]
        return self.page(status, each=self.shown(pack, question), form=form, changes=changes)
