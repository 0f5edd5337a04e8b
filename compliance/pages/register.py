"""The register, searched by what the rules say of its treatments."""

from django import forms
from django.utils.translation import gettext_lazy as _

from compliance.pack_reader import registered_packs
from compliance.selectors import labels_of, today_of
from compliance.services.own_rules import pack_in_use
from records.models import Firm, RegisterTerm
from records.pages.register import Register
from records.pages.register_pictures import Pictures
from records.register.terms import CANT_TELL, NOT_MET


class CheckedRegister(Register):
    def offer(self) -> None:
        super().offer()
        if finding := self.search.form.fields.get("finding"):
            named = titles_of(self.firm, rules_found(self.firm), self.language)
            choices = sorted((title, rule) for rule, title in named.items())
            finding.widget = forms.Select(choices=[("", _("Any")), *((rule, title) for title, rule in choices)])


class CheckedPictures(Pictures):
    def titles(self, rules: list[str]) -> dict[str, str]:
        return titles_of(self.firm, rules, self.language)


def rules_found(firm: Firm) -> list[str]:
    """The ids of the rules that the last check of some treatment left open."""
    found = RegisterTerm.objects.for_firm(firm).filter(kind__in=(NOT_MET, CANT_TELL))
    return list(found.values_list("written", flat=True).distinct())


def titles_of(firm: Firm, rules: list[str], language: str) -> dict[str, str]:
    """What each rule is called; its id where no pack has it any more."""
    own = pack_in_use(firm)
    packs = [*registered_packs(), *([own] if own else [])]
    titles = {rule.id: rule.title.say(language) for pack in packs for rule in pack.rules}
    if not titles.keys() >= set(rules):
        for label in labels_of(firm, today_of(firm)):
            said = label.title.say(language)
            titles |= {rule.id: f"{said}: {rule.title.say(language)}" for rule in label.rules}
    return {rule: titles.get(rule, rule) for rule in rules}
