"""What may be erased: records whose term is over and that nothing holds; a manager has it done."""

from contextlib import suppress
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import ngettext

from compliance.pages.signatures import password_faults
from compliance.selectors import today_of
from compliance.services.keeping import erase_treatment, expired, term_of_treatment
from compliance.services.password import confirm_password
from records.forms.signature import EraseForm
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.erasing import NotErasableError

AT_ONCE = 50


class Keeping(FirmPage):
    permission = "records.erase_treatment"
    template_name = "compliance/keeping.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self._show(EraseForm())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """Erase those that were shown, and of them what may still be erased."""
        form = EraseForm(request.POST)
        if form.is_valid():
            with password_faults(form):
                confirm_password(request.user, form.cleaned_data["password"])
        if not form.is_valid():
            return self._show(form, status=422)
        shown = set(request.POST.getlist("treatment"))
        today = today_of(self.firm)
        count = 0
        for treatment in list(expired(self.firm, today)[:AT_ONCE]):
            if str(treatment.pk) in shown:
                with suppress(NotErasableError), password_faults(form):
                    erase_treatment(treatment, today, request.user)
                    count += 1
            if form.errors:
                return self._show(form, status=422)
        said = ngettext("One record was erased.", "%(count)d records were erased.", count)
        messages.success(request, said % {"count": count})
        return redirect("keeping")

    def _show(self, form: EraseForm, status: int = 200) -> HttpResponse:
        over = expired(self.firm, today_of(self.firm))
        rows = [(treatment, term_of_treatment(treatment)) for treatment in over[:AT_ONCE]]
        rows = [(treatment, term) for treatment, term in rows if term]
        return self.page(form=form, rows=rows, all=over.count(), status=status)
