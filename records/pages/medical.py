"""What a doctor or a poison line asks: what was sprayed, how strong, when. One screen, kept on the phone."""

from typing import Any

from django.http import HttpRequest, HttpResponse

from records.pages.firm_page import FirmPage
from records.poison_lines import poison_line
from records.tanks import tanks_of


class MedicalCard(FirmPage):
    template_name = "records/medical.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        return self.page(
            treatment=treatment,
            document=treatment.document,
            tanks=tanks_of(treatment.document, self.language),
            line=poison_line(treatment.document),
        )
