"""The firm's own rules: what they are, who changed what, and the form in which one is written."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from compliance.models import OwnRules
from compliance.own_rules import OwnRule, Trial
from compliance.pages.rules.base import RulesPage
from compliance.pages.rules.own_examples import example_forms, members
from compliance.pages.rules.own_forms import RuleForm
from compliance.pages.rules.own_groups import JOINS, group_forms
from compliance.pages.rules.own_kinds import FORMS, kinds
from compliance.pages.rules.own_sheet import Sheet, say_fault
from compliance.plain_words import rule_sheets
from compliance.services.own_rules import (
    ExamplesFailError,
    RuleFaultError,
    in_use,
    newest,
    remove_rule,
    save_rule,
    take_into_use,
    try_own,
)
from compliance.services.what_if_runs import newest_run

LONGEST_REASON = 500


class OwnRulesPage(RulesPage):
    """The rules of the newest version, what is in use, and every version with who changed what and why."""

    template_name = "compliance/rules/own.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        latest, used = newest(self.firm), in_use(self.firm)
        sheets = rule_sheets(latest.pack, self.language) if latest and latest.pack else []
        keyed = [(sheet.id.removeprefix("firm/"), sheet) for sheet in sheets]
        trials = {rule.key: try_own(self.firm, rule, self.language) for rule in latest.own} if latest else {}
        return self.page(
            latest=latest,
            used=used,
            waiting=bool(latest and (used is None or used.version_id != latest.pk)),
            rules=[(key, sheet, trials[key]) for key, sheet in keyed],
            kinds=kinds(),
            versions=OwnRules.objects.for_firm(self.firm).select_related("by").prefetch_related("uses__by"),
            run=newest_run(latest) if latest else None,
        )


class TakeIntoUse(RulesPage):
    """Posted to: the newest version is used for every check from now on."""

    permission = "compliance.edit_rules"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Who comes by the address, after signing in again or by reloading, is shown the rules."""
        return redirect("own_rules")

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        latest = newest(self.firm)
        if latest is None or request.POST.get("version") != str(latest.version):
            messages.warning(request, _("The rules were changed meanwhile. Look at them again."))
            return redirect("own_rules")
        try:
            take_into_use(latest, request.user, self.language)
        except ExamplesFailError as error:
            titles = ", ".join(error.titles)
            messages.error(
                request,
                _("Not taken into use: an example comes out otherwise. %(titles)s") % {"titles": titles},
            )
        except RuleFaultError as error:
            what = {"title": error.title, "fault": error.trial.fault}
            messages.error(
                request, _("Not taken into use. Change the rule “%(title)s” first: %(fault)s.") % what
            )
        else:
            messages.success(request, _("Version %(version)s is in use.") % {"version": latest.version})
        return redirect("own_rules")


class OwnRulePage(RulesPage):
    """One rule: written or changed by Save, tried as it is typed, taken out."""

    permission = "compliance.edit_rules"
    template_name = "compliance/rules/own_rule.html"

    @cached_property
    def there(self) -> OwnRule | None:
        """The rule of the address; None for a new one."""
        if "key" not in self.kwargs:
            return None
        latest = newest(self.firm)
        found = [rule for rule in (latest.own if latest else []) if rule.key == str(self.kwargs["key"])]
        if not found:
            raise Http404("the firm has no such rule")
        return found[0]

    @property
    def kind(self) -> type[RuleForm]:
        name = self.there.kind if self.there else self.kwargs["kind"]
        if name not in FORMS:
            raise Http404("no such kind of rule")
        return FORMS[name]

    def sheet(self, data: Any = None) -> Sheet:
        initial = self.kind.initial_of(self.there) if self.there else {"level": "advised", "holder": "person"}
        return Sheet(
            self.kind(data, initial=initial),
            group_forms(data, self.there),
            example_forms(data, self.there),
        )

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        trial = try_own(self.firm, self.there, self.language) if self.there else None
        return self._shown(self.sheet(), trial, self.there.join if self.there else "all")

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        sheet, join, why = self.sheet(request.POST), request.POST.get("join", "all"), self.reason
        if len(why) > LONGEST_REASON and not request.htmx:
            return self._shown(sheet, None, join, 422)
        if request.POST.get("act") == "remove" and self.there:
            remove_rule(self.firm, self.there.key, request.user, why)
            return redirect("own_rules")
        valid = sheet.is_valid()
        rule = sheet.rule(self.there.key if self.there else "", join) if valid else None
        if request.htmx:
            return self._fragment(sheet, self._trial(rule))
        if rule is None:
            return self._shown(sheet, None, join, 422)
        try:
            save_rule(self.firm, rule, request.user, why, self.language)
        except RuleFaultError as error:
            say_fault(sheet.form, error.trial)
            return self._shown(sheet, error.trial, join, 422)
        return redirect("own_rules")

    @property
    def reason(self) -> str:
        """Why the rule is changed now, as typed."""
        return self.request.POST.get("reason", "")

    def _trial(self, rule: OwnRule | None) -> Trial | None:
        if rule is None:
            return None
        return try_own(
            self.firm, rule if rule.key else OwnRule(**{**vars(rule), "key": "new"}), self.language
        )

    def _fragment(self, sheet: Sheet, trial: Trial | None) -> HttpResponse:
        if self.request.htmx.target == "conditions":
            return render(
                self.request, "compliance/rules/own_conditions.html", {"groups": sheet.groups, "joins": JOINS}
            )
        return render(self.request, "compliance/rules/own_tried.html", {"trial": trial})

    def _shown(self, sheet: Sheet, trial: Trial | None, join: str, status: int = 200) -> HttpResponse:
        return self.page(
            status,
            there=self.there,
            says=self.kind.says,
            form=sheet.form,
            groups=sheet.groups,
            joins=JOINS,
            examples=sheet.examples,
            members=members(),
            trial=trial,
            join=join,
            reason=self.reason,
            reason_fault=len(self.reason) > LONGEST_REASON,
        )
