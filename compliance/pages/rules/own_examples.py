"""The examples in the form of a rule, with what they change."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from compliance.own_rules import OwnExample, OwnRule
from compliance.own_rules.facts import choices
from compliance.pages.rules.own_forms import language, of_words
from compliance.pages.rules.own_groups import EMPTY
from compliance.plain_words.examples import OUTCOMES, SITUATIONS

EXAMPLES, CHANGES = 3, 2


class ExampleForm(forms.Form):
    """One example: a base situation, up to two members changed in it, the outcome expected."""

    says = forms.CharField(label=_("In words"), max_length=200, required=False)
    situation = forms.ChoiceField(label=_("Situation"), required=False)
    expects = forms.ChoiceField(label=_("Must come out as"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        said = language()
        self.fields["situation"].choices = [EMPTY, *of_words(SITUATIONS)]  # type: ignore[attr-defined]
        self.fields["expects"].choices = [EMPTY, *((name, word.say(said)) for name, word in OUTCOMES.items())]  # type: ignore[attr-defined]
        for number in range(CHANGES):
            self.fields[f"path_{number}"] = forms.CharField(
                label=_("Changed member"),
                max_length=200,
                required=False,
                widget=forms.TextInput({"list": "members"}),
            )
            self.fields[f"value_{number}"] = forms.CharField(
                label=_("Its value there"), help_text="", max_length=200, required=False
            )

    def base(self) -> list[forms.BoundField]:
        return [self["says"], self["situation"], self["expects"]]

    def changes(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        return [(self[f"path_{number}"], self[f"value_{number}"]) for number in range(CHANGES)]

    def example(self) -> OwnExample | None:
        typed = self.cleaned_data
        if not (typed["situation"] and typed["expects"]):
            return None
        pairs = ((typed[f"path_{number}"].strip(), typed[f"value_{number}"]) for number in range(CHANGES))
        changes = tuple((path, value) for path, value in pairs if path)
        return OwnExample(
            typed["says"] or SITUATIONS[typed["situation"]].say(language()),
            typed["situation"],
            typed["expects"],
            changes,
        )


def example_forms(data: Mapping[str, Any] | None, rule: OwnRule | None) -> list[ExampleForm]:
    examples = [_initial(one) for one in rule.examples] if rule else []
    return [
        ExampleForm(
            data, prefix=f"example-{number}", initial=examples[number] if number < len(examples) else None
        )
        for number in range(max(EXAMPLES, len(examples)))
    ]


def _initial(example: OwnExample) -> dict[str, str]:
    found = {"says": example.says, "situation": example.situation, "expects": example.expects}
    for number, (path, value) in enumerate(example.changes):
        found |= {f"path_{number}": path, f"value_{number}": value}
    return found


def members() -> list[tuple[str, str]]:
    """The members that an example may change, at the first place of each list."""
    said = language()
    known = (
        one for one in choices().values() if one.term.sort != "list" and not one.path.startswith("treatment")
    )
    return [(_first(one.path), one.say(said)) for one in known]


def _first(path: str) -> str:
    return path.replace("mixes.products[]", "mixes[0].products[0]").replace("[]", "[0]")
