"""The firm's own words on its notices, in each language."""

from typing import Any

from django import forms
from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from compliance.own_words import LONGEST
from compliance.rulebook.durations import said_language
from compliance.services.notice_words import own_words_of, set_own_words
from records.models import Firm
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from shared.wording import LANGUAGES


class OwnWordsForm(forms.Form):
    """A text for each language; what may not be said is judged when it is kept."""

    def __init__(self, data: Any, firm: Firm, spoken: str) -> None:
        super().__init__(data, initial=own_words_of(firm))
        for code in LANGUAGES:
            self.fields[code] = forms.CharField(
                label=said_language(code).say(spoken).capitalize(),
                required=False,
                max_length=LONGEST,
                widget=forms.Textarea({"rows": 4, "lang": code}),
            )

    def keep(self, firm: Firm) -> bool:
        """Keep all texts or none; False where one may not be said, which stands beside its field then."""
        with transaction.atomic():
            for code, text in self.cleaned_data.copy().items():
                try:
                    set_own_words(firm, code, text)
                except ValidationError as error:
                    self.add_error(code, error.messages)
            if self.errors:
                transaction.set_rollback(True)
        return not self.errors


class OwnWords(FirmPage):
    permission = "records.see_to_notices"
    template_name = "compliance/own_words.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self.page(form=OwnWordsForm(None, self.firm, self.language))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = OwnWordsForm(request.POST, self.firm, self.language)
        if not form.is_valid() or not form.keep(self.firm):
            return self.page(status=422, form=form)
        messages.success(request, _("Kept. New notices say it; those that were sent stay as they are."))
        return redirect("own_words")
