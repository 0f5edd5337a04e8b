"""Set up a device so that one can sign on it without a signal, and put an end to it."""

import secrets
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.pages.signatures import TOO_MANY_TRIES, WRONG_PASSWORD
from compliance.services.password import TooManyTriesError, WrongPasswordError, confirm_password
from records.document.device_seal import BadKeyError
from records.models import DeviceKey
from records.pages.declaring import UNDECLARED, Declaring
from records.pages.firm_page import FirmPage
from records.services.device_keys import TooManyKeysError, TooManyMadeError, register, revoke

CHALLENGE = "device-challenge"
AGAIN = gettext_lazy("This did not work. Load the page again and try once more.")


class Devices(Declaring):
    permission = "records.sign_treatment"
    template_name = "compliance/devices.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        challenge = request.session[CHALLENGE] = secrets.token_urlsafe(32)
        keys = DeviceKey.objects.for_firm(self.firm).filter(revocation=None).select_related("by")
        own = keys.filter(by=request.user)
        others = keys.exclude(by=request.user) if self.may("records.void_treatment") else []
        return self.page(challenge=challenge, own=own, others=others, to_accept=self.words_to_accept())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        challenge = request.session.get(CHALLENGE)
        sent = {name: request.POST.get(name, "") for name in ("device", "public", "proof", "password")}
        device = sent["device"].strip()
        if not challenge:
            return _fault("device", AGAIN)
        if self.words_to_accept():
            return _fault("device", UNDECLARED)
        if not device or len(device) > 80:
            return _fault("device", _("Give this device a name of at most 80 letters."))
        try:
            confirm_password(request.user, sent["password"])
            key = register(
                request.user, self.firm, device, sent["public"], sent["proof"], challenge.encode()
            )
        except WrongPasswordError:
            return _fault("password", WRONG_PASSWORD)
        except TooManyTriesError:
            return _fault("password", TOO_MANY_TRIES)
        except BadKeyError:
            return _fault("device", AGAIN)
        except TooManyKeysError:
            return _fault("device", _("You have ten devices. End one of them first."))
        except TooManyMadeError:
            return _fault("device", _("You have set up too many devices today. Try again tomorrow."))
        del request.session[CHALLENGE]
        return JsonResponse({"key": str(key.pk)}, status=201)


class EndDevice(FirmPage):
    permission = "records.sign_treatment"

    def post(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        key = DeviceKey.objects.for_firm(self.firm).filter(pk=kwargs["uuid"]).first()
        if key is None:
            raise Http404("no such device")
        try:
            revoke(key, request.user)
        except PermissionDenied:
            raise Http404("not this person's device") from None
        return redirect("devices")


def _fault(control: str, words: Any) -> HttpResponse:
    return JsonResponse({"control": control, "fault": str(words)}, status=422)
