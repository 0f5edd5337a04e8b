"""Rules as they stood: the versions of a pack that are kept, and those of the firm's own rules."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from compliance.models import OwnRules, PackVersion
from compliance.own_rules.changes import Change, changes
from compliance.pack_archive import restore
from compliance.pages.rules.base import RulesPage
from compliance.pages.rules.packs import ShownRule, head_of
from compliance.plain_words import rule_sheets
from compliance.services.pack_history import kept_versions


class PackVersions(RulesPage):
    """Every version of a law's pack that is kept, since when it was in use, and its digest."""

    template_name = "compliance/rules/pack_versions.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        versions = kept_versions(kwargs["pack"])
        if not versions:
            raise Http404("no version of such a pack is kept")
        newest = restore(versions[0].row.as_kept())
        return self.page(head=head_of(newest, self.language), versions=versions)


class PackAsItStood(RulesPage):
    """One kept version of a law's pack, rule by rule."""

    template_name = "compliance/rules/pack_version.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        row = get_object_or_404(PackVersion, pack=kwargs["pack"], digest=f"sha256:{kwargs['digest']}")
        pack = restore(row.as_kept())
        rules = [ShownRule(sheet, ()) for sheet in rule_sheets(pack, self.language)]
        (version,) = (one for one in kept_versions(row.pack) if one.row == row)
        return self.page(head=head_of(pack, self.language), rules=rules, version=version)


class OwnRulesAsTheyStood(RulesPage):
    """One version of the firm's own rules, and what it changed in the one before it."""

    template_name = "compliance/rules/own_version.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        versions = OwnRules.objects.for_firm(self.firm).select_related("by", "firm")
        version = get_object_or_404(versions.prefetch_related("uses__by"), version=kwargs["version"])
        before = versions.filter(version__lt=version.version).first()
        return self.page(
            version=version,
            sheets=rule_sheets(version.pack, self.language) if version.pack else [],
            changed=self._changed(before, version),
        )

    def _changed(self, before: OwnRules | None, after: OwnRules) -> list[tuple[str, list[Change]]]:
        """What changed, under the title of each rule that did."""
        old = {rule.key: rule for rule in (before.own if before else [])}
        new = {rule.key: rule for rule in after.own}
        found = []
        for key in dict.fromkeys([*old, *new]):
            one, other = old.get(key), new.get(key)
            if one != other and (named := other or one):
                found.append((named.title, changes(one, other, self.firm.name, self.language)))
        return found
