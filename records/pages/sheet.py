"""What a phone keeps of one treatment as data, beside the pages."""

from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse

from records.models import Treatment
from records.pages.firm_page import FirmPage
from records.services.sheets import sheet_of


class SheetPage(FirmPage):
    """A subclass says what the rules have to `tell` of the treatment."""

    permission = "records.edit_draft"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        if treatment.state != Treatment.State.DRAFT:
            return HttpResponse(status=409)
        about = {"firm": str(self.firm.pk), "number": treatment.number, "signer": request.user.name}
        return JsonResponse(sheet_of(treatment, request.user) | about | self.tell(treatment))

    def tell(self, treatment: Treatment) -> dict[str, Any]:
        return {}
