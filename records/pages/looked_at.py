"""The button by which a manager says to have looked at what was signed on a device."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect

from records.models import Seal
from records.pages.firm_page import FirmPage
from records.services.looking import look_at


class LookAtSeal(FirmPage):
    permission = "records.look_at_seals"

    def post(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        seal = Seal.objects.for_firm(self.firm).filter(pk=kwargs["uuid"]).first()
        if seal is None:
            raise Http404("no such seal")
        look_at(seal, request.user)
        if request.POST.get("from") == "treatment":
            return redirect("treatment", uuid=seal.treatment_id)
        return redirect("home")
