"""All forms of one rule together."""

from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError

from compliance.own_rules import OwnRule, Trial
from compliance.pages.rules.own_examples import ExampleForm
from compliance.pages.rules.own_forms import RuleForm
from compliance.pages.rules.own_groups import GroupForm


@dataclass
class Sheet:
    """All forms of one rule, bound to what was typed or to the rule that is there."""

    form: RuleForm
    groups: list[GroupForm]
    examples: list[ExampleForm]

    def is_valid(self) -> bool:
        valid = [each.is_valid() for each in (self.form, *self.groups, *self.examples)]
        return all(valid)

    def rule(self, key: str, join: str) -> OwnRule:
        """The rule that was typed; the forms must be valid."""
        typed = self.form.cleaned_data
        return OwnRule(
            key,
            typed["title"],
            typed["why"],
            self.form.kind,
            self.form.params(),
            typed["level"],
            _day(typed["start"]),
            _day(typed["until"]),
            join if join == "any" else "all",
            tuple(group for form in self.groups if (group := form.group())),
            tuple(one for form in self.examples if (one := form.example())),
        )


def say_fault(form: RuleForm, trial: Trial) -> None:
    """Put what is wrong beside the field that it is about."""
    fields = {"between": "least", "hours": "first", "season": "first", "asks": "path"}
    if form.kind == "interval":
        fields |= {"min": "least"}
    name = fields.get(trial.key, trial.key)
    form.add_error(name if name in form.fields else None, ValidationError(trial.fault))


def _day(day: date | None) -> str:
    return day.isoformat() if day else ""
