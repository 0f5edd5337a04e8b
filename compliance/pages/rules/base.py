"""What every page about rules has in common."""

from datetime import date
from typing import Any, ClassVar

from django.http import HttpResponse

from compliance import permissions  # noqa: F401 - what is asked for here
from compliance.selectors import today_of
from records.pages.firm_page import FirmPage


class RulesPage(FirmPage):
    """Everybody of the firm reads the rules; a page that changes some asks for `compliance.edit_rules`."""

    permission: ClassVar[str] = "compliance.view_rules"

    @property
    def today(self) -> date:
        return today_of(self.firm)

    def page(self, status: int = 200, **context: Any) -> HttpResponse:
        return super().page(status, may_edit=self.may("compliance.edit_rules"), **context)
