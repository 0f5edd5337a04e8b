"""A signed record's check beside the same check by the rules of another day."""

from datetime import date
from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.utils.translation import gettext_lazy as _

from compliance.compare import Comparison, compare
from compliance.models import StoredCheck
from compliance.services.pack_keeping import NoPacksKeptError
from compliance.services.recheck_basis import TODAY, make_again
from compliance.stored_form import plain, thickened
from records.forms.dates import DayField
from records.models import Treatment
from records.pages.firm_page import FirmPage

NOTHING_KEPT = _("No rule packs are kept of that day. The first day is %(first)s.")


class DayForm(forms.Form):
    day = DayField(
        label=_("By the rules in use on"),
        required=False,
        help_text=_("Leave it empty for the rules of today."),
        widget=forms.DateInput({"type": "date"}),
    )


class ComparisonPage(FirmPage):
    """What the rules of today, or of any day, would say otherwise. Nothing that is stored changes."""

    permission = "compliance.view_checks"
    template_name = "compliance/comparison.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        base = newest_check(treatment)
        if base is None:
            raise Http404("no check is stored of this treatment")
        form = DayForm(request.GET)
        found = self._compared(base, form) if form.is_valid() else {}
        return self.page(treatment=treatment, check=base, form=form, **found)

    def _compared(self, base: StoredCheck, form: DayForm) -> dict[str, Any]:
        day: date | None = form.cleaned_data["day"]
        try:
            made = make_again(base, day.isoformat() if day else TODAY)
        except NoPacksKeptError as error:
            form.add_error("day", NOTHING_KEPT % {"first": error.first or "–"})
            return {}
        if made.body is None:
            return {"fault": (made.fault or {})[self.language]}
        after = thickened(plain(made.body), base.stored)
        return {"comparison": said(compare(base.stored, after), self.language), "day": day}


def newest_check(treatment: Treatment) -> StoredCheck | None:
    """The check that was stored last of this treatment; None for a draft."""
    checks = StoredCheck.objects.for_firm(treatment.firm).filter(treatment=treatment)
    return checks.select_related("signed_record", "treatment__site", "kept_context").order_by("-at").first()


def said(comparison: Comparison, language: str) -> dict[str, list[str]]:
    """The sentences of a comparison: by which the record comes out differently, and the others."""
    differences = comparison.differences
    return {
        "weighty": [one.say(language) for one in differences if one.weighty],
        "other": [one.say(language) for one in differences if not one.weighty],
    }
