"""The tanks of the day: what was filled in the yard, what is left of each, and a form for the next one."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from records.document.faults import DocumentFaults
from records.document.types import DOCUMENT_SCHEMA
from records.filled_tank import FilledTank
from records.forms.tank import TankForm
from records.pages.firm_page import FirmPage
from records.services.filling import NotThatMuchError, fill_tank
from records.tanks import Tank, tanks_of
from records.tanks_at_hand import tanks_of_day
from shared import clock
from shared.times import read_time


@dataclass(frozen=True)
class TankOfToday:
    """What should be in it, and what was put into it."""

    filled: FilledTank
    stated: Tank

    @property
    def at(self) -> datetime:
        return read_time(self.filled.at)


class Tanks(FirmPage):
    permission = "records.edit_draft"
    template_name = "records/tanks.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        return self._show(TankForm(self.firm))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = TankForm(self.firm, request.POST)
        if not (form.is_valid() and self._filled(form)):
            return self._show(form, status=422)
        messages.success(request, _("The tank is recorded. Treatments of that day may draw from it."))
        return redirect("tanks")

    def _filled(self, form: TankForm) -> bool:
        try:
            fill_tank(self.firm, self.request.user, form.filling())
        except DocumentFaults as error:
            for fault in error.faults:
                form.add_error(None, fault.say(self.language))
            return False
        except NotThatMuchError as error:
            said = _("Products and water together: %(made)s.") % {"made": error.made.say(self.language)}
            form.add_error("volume", said)
            return False
        return True

    def _show(self, form: TankForm, status: int = 200) -> HttpResponse:
        today = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).date()
        tanks = [TankOfToday(each, self._stated(each)) for each in tanks_of_day(self.firm, today)]
        return self.page(status=status, form=form, today=today, tanks=tanks)

    def _stated(self, tank: FilledTank) -> Tank:
        (stated,) = tanks_of({"schema": DOCUMENT_SCHEMA, "record": {}, "mixes": [tank.mix]}, self.language)
        return stated
