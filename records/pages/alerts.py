"""The button by which a manager says to have looked at an alert of misuse."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect

from records.models import MisuseAlert
from records.pages.firm_page import FirmPage
from records.services.misuse import look_at_alert


class LookAtAlert(FirmPage):
    permission = "records.view_audit"

    def post(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        alert = MisuseAlert.objects.for_firm(self.firm).filter(pk=kwargs["uuid"]).first()
        if alert is None:
            raise Http404("no such alert")
        look_at_alert(alert, request.user)
        return redirect("home")
