"""The crew's form and a draft's task list, with what the rules say of them."""

from typing import Any

from django.http import HttpResponse

from compliance.pages.phone_sheet import TELLS_HERE
from compliance.pages.remarks import remarks_on
from compliance.pages.seals_again import SealsAgain
from records.models import Treatment
from records.pages.remarks import Remarks
from records.pages.section import SectionPage


class CheckedSectionPage(SealsAgain, SectionPage):
    template_name = "compliance/section.html"

    def remarks(self, treatment: Treatment) -> Remarks:
        return remarks_on(treatment, self.language)

    def page(self, status: int = 200, **context: Any) -> HttpResponse:
        return super().page(status, told_here=("records/reading.js", *TELLS_HERE), **context)
