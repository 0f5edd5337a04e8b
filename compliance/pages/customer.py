"""The customer's papers: before the work, after it, and the copy of the record that they get."""

from typing import Any, cast

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.pages.treatment import signed_check
from compliance.papers.customer import after, before, draw
from compliance.rulebook.durations import said_language
from compliance.services.customer_copy import CustomerCopy
from compliance.services.drawn_sheets import drawn_sheet
from records.document.words import WORD_LISTS
from records.models import AuditEntry, SignedRecord, Treatment, User
from records.moments_said import said_moment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_taken
from records.record_files import record_file
from records.selectors import document_of, signed_record_of
from shared.wording import LANGUAGES


class CustomerPaper(FirmPage):
    """What the customer reads before the work (of the plan) or after it (of what was signed), as PDF."""

    permission = "records.view_draft"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        language, treatment = kwargs["language"], self.treatment()
        if language not in LANGUAGES or kwargs["when"] not in ("before", "after"):
            raise Http404("no such paper")
        if kwargs["when"] == "before":
            content = before(treatment.document, language)
        else:
            content = after(document_of(whole_record(self, treatment)), language)
        note_taken(request, self.firm, treatment, AuditEntry.Kind.PRINTED)
        drawn = draw(content, self.firm.paper)
        return HttpResponse(drawn, content_type="application/pdf", headers={"Content-Disposition": "inline"})


class CopyForm(forms.Form):
    means = forms.ChoiceField(label=gettext_lazy("How"))
    language = forms.ChoiceField(label=gettext_lazy("Language"))

    def __init__(self, data: Any, copy: CustomerCopy, spoken: str) -> None:
        super().__init__(data, initial={"language": copy.record.firm.language})
        words = WORD_LISTS["means"]
        means = cast(forms.ChoiceField, self.fields["means"])
        means.choices = [(one, words[one].say(spoken)) for one in copy.ways]
        language = cast(forms.ChoiceField, self.fields["language"])
        language.choices = [(one, said_language(one).say(spoken)) for one in LANGUAGES]


class SendCopy(FirmPage):
    """The customer's copy of what was signed: to whom, how, what goes along, by when; then it goes."""

    permission = "records.send_notices"
    template_name = "compliance/send_copy.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        copy = CustomerCopy(whole_record(self, self.treatment()))
        return self._show(copy, CopyForm(None, copy, self.language))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        copy = CustomerCopy(whole_record(self, self.treatment()))
        form = CopyForm(request.POST, copy, self.language)
        if not form.is_valid():
            return self._show(copy, form)
        chosen, by = form.cleaned_data, cast(User, request.user)
        if copy.send(chosen["means"], chosen["language"], sheet_of, by):
            messages.success(
                request, _("The customer's copy is on its way. Note it as a follow-up once it is there.")
            )
        else:
            messages.info(request, _("This copy is on its way already. It was not sent again."))
        return redirect("notices_sent", uuid=copy.treatment.pk)

    def _show(self, copy: CustomerCopy, form: CopyForm) -> HttpResponse:
        zone = copy.treatment.site.time_zone or self.firm.time_zone
        return self.page(
            status=422 if form.errors else 200,
            treatment=copy.treatment,
            copy=copy,
            form=form,
            asked=[(one, one.due and said_moment(one.due, zone)) for one in copy.asked],
        )


def whole_record(page: FirmPage, treatment: Treatment) -> SignedRecord:
    """The version that holds now; Http404 for what is void or erased."""
    if treatment.state == Treatment.State.VOID or hasattr(treatment, "erasure"):
        raise Http404("no such record")
    return signed_record_of(page.firm, treatment.pk)


def sheet_of(record: SignedRecord, language: str) -> bytes:
    """The record sheet, as it leaves the firm."""
    check = signed_check(record)
    return drawn_sheet(record, record_file(record, check.stored if check else None), language)
