"""The part of a rule's form that says when it applies: groups of comparisons, one level deep."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from compliance.own_rules import Group, OwnRule, Row
from compliance.own_rules.facts import choices
from compliance.pages.rules.own_forms import of_facts, of_words
from shared.wording import Wording

MOST_GROUPS, MOST_ROWS = 4, 6
ASKS = [
    ("is", _("is")),
    ("is not", _("is not")),
    ("at least", _("is at least")),
    ("at most", _("is at most")),
    ("present", _("is on the record")),
    ("absent", _("is not on the record")),
]
OVER = [("some", _("at least one")), ("every", _("every one")), ("none", _("none"))]
JOINS = [("all", _("all must hold")), ("any", _("one must hold")), ("none", _("none may hold"))]
_YES_NO = {"yes": Wording("yes", "sí"), "no": Wording("no", "no")}
EMPTY = ("", "—")


class ConditionForm(forms.Form):
    """One comparison: fact, of which items of its list, comparison, value. A fact with a closed list offers
    its words; one that stands in no list is not asked of which items."""

    path = forms.ChoiceField(label=_("Fact"), required=False)
    over = forms.ChoiceField(label=_("In a list, of"), choices=OVER, required=False)
    asks = forms.ChoiceField(label=_("Comparison"), choices=ASKS, required=False)
    value = forms.CharField(label=_("Value"), max_length=200, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["path"].choices = [EMPTY, *of_facts(lists=True)]  # type: ignore[attr-defined]
        self.fields["path"].widget.attrs = {
            "hx-post": "",
            "hx-target": "#conditions",
            "hx-sync": "this:replace",
        }
        choice = choices().get(self["path"].value() or "")
        if choice and "[]" not in choice.path:
            del self.fields["over"]
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
        if not typed["path"]:
            return None
        return Row(typed["path"], typed["asks"] or "is", typed["value"], typed.get("over") or "some")


@dataclass
class GroupForm:
    """The rows of one group, how they are joined, and whether anything is asked in it."""

    number: int
    join: str
    rows: list[ConditionForm]
    filled: bool

    @property
    def name(self) -> str:
        """The control that says how its rows are joined."""
        return f"group-{self.number}-join"

    def is_valid(self) -> bool:
        valid = [row.is_valid() for row in self.rows]
        return all(valid)

    def group(self) -> Group | None:
        rows = tuple(row for form in self.rows if (row := form.row()))
        return Group(rows, self.join) if rows else None


def group_forms(data: Mapping[str, Any] | None, rule: OwnRule | None) -> list[GroupForm]:
    """A form for each group, and an empty one after the last that is filled in; the same of its rows."""
    groups = rule.groups if rule else ()
    filled = [number for number in range(MOST_GROUPS) if _filled(data, number)]
    count = len(groups) if data is None else max(filled, default=-1) + 1
    return [
        _of_data(data, number) if data is not None else _of_group(groups, number)
        for number in range(min(count + 1, MOST_GROUPS))
    ]


def _of_data(data: Mapping[str, Any], number: int) -> GroupForm:
    filled = _filled(data, number)
    count = min(max(filled, default=-1) + 2, MOST_ROWS)
    rows = [ConditionForm(data, prefix=f"group-{number}-row-{at}") for at in range(count)]
    join = data.get(f"group-{number}-join", "")
    return GroupForm(number, join if join in dict(JOINS) else "all", rows, bool(filled))


def _of_group(groups: tuple[Group, ...], number: int) -> GroupForm:
    group = groups[number] if number < len(groups) else Group(())
    initial = [vars(row) for row in group.rows]
    rows = [
        ConditionForm(prefix=f"group-{number}-row-{at}", initial=initial[at] if at < len(initial) else None)
        for at in range(min(len(initial) + 1, MOST_ROWS))
    ]
    return GroupForm(number, group.join, rows, bool(initial))


def _filled(data: Mapping[str, Any] | None, number: int) -> list[int]:
    """The rows of a group in which a fact was chosen."""
    return [at for at in range(MOST_ROWS) if data and data.get(f"group-{number}-row-{at}-path")]
