"""What the form of a rule of the firm has for every kind, and the pick lists out of the vocabulary."""

from collections.abc import Mapping
from itertools import groupby
from typing import Any, ClassVar

from django import forms
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from compliance.facts_reader import VOCABULARY
from compliance.own_rules import OwnRule
from compliance.own_rules.facts import choices
from compliance.rulebook.vocabulary import read_path
from records.forms.dates import DayField
from shared.wording import Catalogue

DAY = {"type": "date"}
Params = dict[str, Any]
LEVELS = [
    ("advised", _("Advised: shown, nothing to answer")),
    ("required", _("Required for our firm: to be met, or answered when signing")),
]


def language() -> str:
    return (get_language() or "en")[:2]


def of_words(words: Catalogue) -> list[tuple[str, str]]:
    """A closed list as choices, in the language of the page."""
    return [(word, said.say(language())) for word, said in words.items()]


def words_at(path: str) -> Catalogue:
    """The closed list of a member of the record."""
    return read_path(path, VOCABULARY.roots("document"), lists=True).term.words


def of_facts(*, lists: bool) -> list[tuple[str, Any]]:
    """The facts as choices, by the part of the record that they stand in."""
    said = language()
    known = [one for one in choices().values() if lists or one.term.sort != "list"]
    groups = groupby(known, key=lambda one: one.group.say(said))
    return [
        (group, [(one.path, one.say(said).removeprefix(f"{group} › ")) for one in some])
        for group, some in groups
    ]


def split(text: str) -> list[str]:
    return [part.strip() for part in text.split(",") if part.strip()]


class RuleForm(forms.Form):
    """What every rule has. `params` gives the kind's own part as a rule pack holds it."""

    kind: ClassVar[str]
    says: ClassVar[Any]

    title = forms.CharField(
        label=_("Title"), max_length=120, help_text=_("As a finding names it: Calm days only.")
    )
    why = forms.CharField(label=_("Why your firm asks it"), max_length=300, required=False)
    level = forms.ChoiceField(label=_("Level"), choices=LEVELS, widget=forms.RadioSelect)
    start = DayField(label=_("For treatments from"), required=False, widget=forms.DateInput(DAY))
    until = DayField(
        label=_("Until"),
        help_text=_("The first day on which it no longer holds."),
        required=False,
        widget=forms.DateInput(DAY),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        common = list(RuleForm.base_fields)
        own = [name for name in self.fields if name not in common]
        self.order_fields([*common[:2], *own, *common[2:]])

    def params(self) -> Params:
        raise NotImplementedError

    @classmethod
    def initial_of(cls, rule: OwnRule) -> Params:
        """What the form shows of a rule that is there."""
        return {
            "title": rule.title,
            "why": rule.why,
            "level": rule.level,
            "start": rule.start,
            "until": rule.until,
        } | cls.typed(rule.params)

    @classmethod
    def typed(cls, params: Mapping[str, Any]) -> Params:
        return dict(params)

    def given(self, *names: str) -> Params:
        return {name: self.cleaned_data[name] for name in names if self.cleaned_data.get(name)}
