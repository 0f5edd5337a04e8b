"""The manager's page."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse

from compliance.pages.desk.asked import notices, requests
from compliance.pages.desk.harm import findings, incidents, lots
from compliance.pages.desk.lasting import lasting
from compliance.pages.desk.needs import Group
from compliance.pages.desk.owed import reports, stock
from compliance.pages.desk.records import unsigned
from compliance.selectors import today_of
from records.models import Firm
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen

BY_HARM: tuple[Callable[[Firm, str], Group], ...] = (
    incidents, lots, findings, requests, notices, unsigned, lasting, reports, stock,
)  # fmt: skip
"""What may hurt somebody first, then what breaks a duty to others, then the firm's own house."""


class Desk(FirmPage):
    permission = "compliance.see_desk"
    template_name = "compliance/desk.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        groups = [each(self.firm, self.language) for each in BY_HARM]
        return self.page(
            today=today_of(self.firm),
            alarm=self.log_alarm(),
            groups=[each for each in groups if each.needs],
            clear=[each for each in groups if not each.needs],
            late=sum(each.late for each in groups),
        )
