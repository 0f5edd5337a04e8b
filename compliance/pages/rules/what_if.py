"""What the newest rules of the firm would have said of the records that it has."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import cached_property

from compliance.models import OwnRules
from compliance.pages.rules.base import RulesPage
from compliance.services.own_rules import in_use, newest
from compliance.services.what_if import MOST_SHOWN
from compliance.services.what_if_runs import begin, newest_run


class WhatIfPage(RulesPage):
    """The newest run for the newest version; a post begins one. A run of the worker tells how far it is."""

    permission = "compliance.edit_rules"
    template_name = "compliance/rules/what_if.html"

    @cached_property
    def version(self) -> OwnRules:
        latest = newest(self.firm)
        if latest is None:
            raise Http404("the firm has no rules of its own")
        return latest

    @cached_property
    def waiting(self) -> bool:
        """Whether the newest version is another than the one in use: only then is there something to ask."""
        used = in_use(self.firm)
        return used is None or used.version_id != self.version.pk

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        run = newest_run(self.version)
        found = [{**one, "says": one[self.language]} for one in run.found] if run else []
        return self.page(
            version=self.version,
            waiting=self.waiting,
            run=run,
            found=found,
            cut=len(found) >= MOST_SHOWN,
        )

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        if self.waiting:
            begin(self.version)
        return redirect("what_if")
