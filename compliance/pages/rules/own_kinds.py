"""What each kind of rule asks in its form."""

from collections.abc import Iterator, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from compliance.facts_reader import VOCABULARY
from compliance.own_rules.facts import choices
from compliance.pages.rules.own_forms import Params, RuleForm, language, of_facts, of_words, split, words_at


class LimitForm(RuleForm):
    kind = "limit"
    says = _("A limit: wind, temperature, rate, dry time, distance to water")
    quantity = forms.ChoiceField(label=_("Quantity"))
    min = forms.CharField(
        label=_("At least"), max_length=60, required=False, help_text=_("With its unit: 2 mph.")
    )
    max = forms.CharField(
        label=_("At most"), max_length=60, required=False, help_text=_("With its unit: 9 mph.")
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        measures = VOCABULARY.measures.values()
        listed = [(one.name, one.label.say(language())) for one in measures if one.name != "days_between"]
        self.fields["quantity"].choices = listed  # type: ignore[attr-defined]

    def params(self) -> Params:
        return self.given("quantity", "min", "max")


class RecordForm(RuleForm):
    kind = "record"
    says = _("Something that must be on the record")
    path = forms.ChoiceField(
        label=_("What the record must state"), help_text=_("In a list: for each of its items.")
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["path"].choices = of_facts(lists=True)  # type: ignore[attr-defined]

    def params(self) -> Params:
        path = self.cleaned_data["path"]
        labels = choices()[path].labels[-1]
        ask: Params = {"words": {"en": labels.en, "es": labels.es}}
        listed, inside, within = path.partition("[]")
        ask |= {"every": listed, "path": f"item{within}"} if inside else {"path": path}
        return {"asks": [ask]}

    @classmethod
    def typed(cls, params: Mapping[str, Any]) -> Params:
        ask = params["asks"][0]
        return {
            "path": f"{ask['every']}[]{ask['path'].removeprefix('item')}" if "every" in ask else ask["path"]
        }


class ProtectionForm(RuleForm):
    kind = "protection"
    says = _("Steps against runoff and drift")
    steps = forms.MultipleChoiceField(label=_("Steps"), widget=forms.CheckboxSelectMultiple)
    how = forms.ChoiceField(
        label=_("Of these steps"),
        choices=[("any", _("at least one")), ("all", _("all"))],
        widget=forms.RadioSelect,
    )
    features = forms.MultipleChoiceField(
        label=_("Only where the site has"), required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["steps"].choices = of_words(words_at("protection.step"))  # type: ignore[attr-defined]
        self.fields["features"].choices = of_words(words_at("site.features.kind"))  # type: ignore[attr-defined]

    def params(self) -> Params:
        return {"steps": {self.cleaned_data["how"]: self.cleaned_data["steps"]}, **self.given("features")}

    @classmethod
    def typed(cls, params: Mapping[str, Any]) -> Params:
        how, steps = next(iter(params["steps"].items()))
        return {"how": how, "steps": steps, "features": params.get("features", [])}


class IntervalForm(RuleForm):
    kind = "interval"
    says = _("Time between treatments, hours of the day, or a season")
    form = forms.ChoiceField(
        label=_("Which"),
        choices=[
            ("between", _("Time between two treatments of a surface")),
            ("hours", _("Hours of the day")),
            ("season", _("Season")),
        ],
        widget=forms.RadioSelect,
    )
    least = forms.CharField(
        label=_("Time between, at least"),
        max_length=60,
        required=False,
        help_text=_("With its unit: 30 day."),
    )
    first = forms.CharField(
        label=_("From"),
        max_length=5,
        required=False,
        help_text=_("An hour (07:00), or month and day (03-01)."),
    )
    last = forms.CharField(label=_("To"), max_length=5, required=False)

    def params(self) -> Params:
        typed = self.cleaned_data
        if typed["form"] == "between":
            return {"between": {"min": typed["least"]}}
        return {typed["form"]: {"from": typed["first"], "to": typed["last"]}}

    @classmethod
    def typed(cls, params: Mapping[str, Any]) -> Params:
        form, value = next(iter(params.items()))
        if form == "between":
            return {"form": form, "least": value.get("min", "")}
        return {"form": form, "first": value["from"], "last": value["to"]}


class LicenceForm(RuleForm):
    kind = "licence"
    says = _("A licence that somebody must have")
    holder = forms.ChoiceField(
        label=_("Whose"),
        choices=[("person", _("each person on the job")), ("firm", _("the firm"))],
        widget=forms.RadioSelect,
    )
    authorities = forms.CharField(
        label=_("Issued by"),
        required=False,
        max_length=200,
        help_text=_("As on the licence, with commas: us-wa, us-or. Empty: by anybody."),
    )
    categories = forms.CharField(
        label=_("Categories"),
        required=False,
        max_length=200,
        help_text=_("With commas. Any of them will do."),
    )
    supervised = forms.MultipleChoiceField(
        label=_("Or works under somebody who has one, who is"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["supervised"].choices = of_words(words_at("people.supervision"))  # type: ignore[attr-defined]

    def params(self) -> Params:
        typed = self.cleaned_data
        lists = {name: split(typed[name]) for name in ("authorities", "categories") if typed[name]}
        return {"holder": typed["holder"], **lists, **self.given("supervised")}

    @classmethod
    def typed(cls, params: Mapping[str, Any]) -> Params:
        joined = {name: ", ".join(params.get(name, [])) for name in ("authorities", "categories")}
        return {"holder": params["holder"], "supervised": params.get("supervised", []), **joined}


FORMS: Mapping[str, type[RuleForm]] = {
    form.kind: form for form in (LimitForm, RecordForm, ProtectionForm, IntervalForm, LicenceForm)
}


def kinds() -> Iterator[tuple[str, Any]]:
    return ((kind, form.says) for kind, form in FORMS.items())
