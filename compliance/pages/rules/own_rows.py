"""The rows of the form of a rule: conditions, and examples with what they change."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from compliance.own_rules import OwnExample, OwnRule, Row
from compliance.own_rules.facts import choices
from compliance.pages.rules.own_forms import language, of_facts, of_words
from compliance.plain_words.examples import OUTCOMES, SITUATIONS
from shared.wording import Wording

EXAMPLES, CHANGES, MOST_ROWS = 3, 2, 12
ASKS = [
    ("is", _("is")),
    ("is not", _("is not")),
    ("at least", _("is at least")),
    ("at most", _("is at most")),
    ("present", _("is on the record")),
    ("absent", _("is not on the record")),
]
_YES_NO = {"yes": Wording("yes", "sí"), "no": Wording("no", "no")}
EMPTY = ("", "—")


class ConditionForm(forms.Form):
    """One comparison: fact, comparison, value. A fact with a closed list offers its words."""

    path = forms.ChoiceField(label=_("Fact"), required=False)
    asks = forms.ChoiceField(label=_("Comparison"), choices=ASKS, required=False)
    value = forms.CharField(label=_("Value"), max_length=200, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["path"].choices = [EMPTY, *of_facts(lists=True)]  # type: ignore[attr-defined]
        self.fields["path"].widget.attrs = {"hx-post": "", "hx-target": "#conditions"}
        choice = choices().get(self["path"].value() or "")
        words = choice.term.words if choice else {}
        words = _YES_NO if choice and choice.term.sort == "yes_no" else words
        if words:
            label = self.fields["value"].label
            listed = [EMPTY, *of_words(words)]
            self.fields["value"] = forms.CharField(
                label=label, required=False, widget=forms.Select(choices=listed)
            )

    def row(self) -> Row | None:
        typed = self.cleaned_data
        return Row(typed["path"], typed["asks"] or "is", typed["value"]) if typed["path"] else None


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


def condition_forms(data: Mapping[str, Any] | None, rule: OwnRule | None) -> list[ConditionForm]:
    """A form for each row, and an empty one after the last that is filled in."""
    rows: Sequence[Row] = rule.rows if rule else ()
    initial = [{"path": row.path, "asks": row.asks, "value": row.value} for row in rows]
    if data is not None:
        filled = [number for number in range(MOST_ROWS) if data.get(f"row-{number}-path")]
        count = max(filled, default=-1) + 1
    else:
        count = len(initial)
    return [
        ConditionForm(
            data, prefix=f"row-{number}", initial=initial[number] if number < len(initial) else None
        )
        for number in range(min(count + 1, MOST_ROWS))
    ]


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
