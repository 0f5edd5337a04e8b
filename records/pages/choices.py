"""What a phone keeps to choose from without a signal: people, rigs, and products with their labels."""

from typing import Any
from zoneinfo import ZoneInfo

from django.http import HttpRequest, JsonResponse

from records.forms.kept_choices import kept_choices
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from shared import clock


class Choices(FirmPage):
    """A subclass says what the rules have to `tell` of the rows."""

    permission = "records.edit_draft"

    def get(self, request: HttpRequest, **_kwargs: Any) -> JsonResponse:
        note_seen(request, self.firm)
        today = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).date()
        kept = kept_choices(self.firm, today, self.language)
        return JsonResponse(kept | self.tell(kept))

    def tell(self, kept: dict[str, Any]) -> dict[str, Any]:
        return {}
