"""The signs that rules want at a site: how many, how long; each to print, with a list of where they stand."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from compliance.notices.duty import Signs
from compliance.pages.notice_words import Said
from compliance.papers.notice.addresses import address_lines
from compliance.papers.posting_sign import placement_list, print_sign, sign_of
from compliance.papers.speech import joined
from compliance.rulebook.durations import said_language
from compliance.services.notice_plan import plan_of
from records.document.reader import read
from records.models import AuditEntry, Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_taken
from shared.quantities import Quantity, QuantityError, parse
from shared.wording import LANGUAGES

MOST_PLACES, LONGEST_EDGE = 60, 5000


class PlacesForm(forms.Form):
    """Where people come in, and how long the edge is along which signs stand."""

    access = forms.CharField(
        label=_("Ways in, one a line"),
        help_text=_("Gates, drives and paths by which people come onto what is treated."),
        required=False,
        max_length=1500,
        widget=forms.Textarea({"rows": 4}),
    )
    edge = forms.CharField(
        label=_("Length of the edge"),
        help_text=_(
            "Such as 240 ft or 73 m. Where a rule says how far apart signs may stand, the list counts them."
        ),
        required=False,
        max_length=30,
    )

    def clean_access(self) -> list[str]:
        lines = [line.strip() for line in self.cleaned_data["access"].splitlines() if line.strip()]
        if len(lines) > MOST_PLACES:
            raise forms.ValidationError(_("No more than %(n)d ways in fit on the list.") % {"n": MOST_PLACES})
        return lines

    def clean_edge(self) -> Quantity | None:
        typed = self.cleaned_data["edge"].strip()
        try:
            edge = parse(typed, "length") if typed else None
        except QuantityError as error:
            raise forms.ValidationError(error.say((get_language() or "en")[:2])) from error
        if edge and not 0 < edge.to("m") <= LONGEST_EDGE:
            raise forms.ValidationError(_("This is no length of an edge of a site."))
        return edge


class SignsPage(FirmPage):
    """The crew sees it, too: they put the signs up."""

    permission = "records.view_draft"
    template_name = "compliance/signs.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        return self.show(self.treatment(), PlacesForm())

    def show(self, treatment: Treatment, form: PlacesForm) -> HttpResponse:
        plan = plan_of(treatment)
        said = Said(plan, treatment.site.time_zone or self.firm.time_zone, self.language)
        signs = plan.duties.signs
        return self.page(
            status=422 if form.errors else 200,
            treatment=treatment,
            form=form,
            signs=[
                (one, said.when(one.latest), one.until and said.when(one.until)) for one in signs if one.applies
            ],
            unknown=[one for one in signs if one.applies is None],
            languages=[(one, said_language(one).say(self.language)) for one in LANGUAGES],
        )


class SignPaper(SignsPage):
    """A paper about the signs of one rule, in the language of the address."""

    def signs(self, treatment: Treatment) -> Signs:
        asked = plan_of(treatment).duties.signs
        found = next((one for one in asked if one.applies and one.rule == self.kwargs["rule"]), None)
        if found is None or self.kwargs["language"] not in LANGUAGES:
            raise Http404("no such sign")
        return found

    def answer(self, treatment: Treatment, drawn: bytes) -> HttpResponse:
        note_taken(self.request, self.firm, treatment, AuditEntry.Kind.PRINTED)
        return HttpResponse(drawn, content_type="application/pdf", headers={"Content-Disposition": "inline"})


class Sign(SignPaper):
    """The sign to scale."""

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        treatment = self.treatment()
        signs = self.signs(treatment)
        content = sign_of(signs.kind, signs.cite, treatment.document, kwargs["language"])
        return self.answer(treatment, print_sign(content, self.firm.paper))


class Placement(SignPaper):
    """The list of where the signs stand."""

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        treatment = self.treatment()
        signs, form = self.signs(treatment), PlacesForm(request.GET)
        if not form.is_valid():
            return self.show(treatment, form)
        access: Sequence[str] = form.cleaned_data["access"]
        drawn = placement_list(
            signs.kind,
            site_said(treatment),
            access,
            form.cleaned_data["edge"],
            kwargs["language"],
            self.firm.paper,
            self.firm.name,
        )
        return self.answer(treatment, drawn)


def site_said(treatment: Treatment) -> str:
    """The site by its name and address, as the document states it."""
    site = read(treatment.document).site
    return joined((treatment.site_name, *address_lines(site and site.address)))
