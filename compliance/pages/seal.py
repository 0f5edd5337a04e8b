"""Where a device sends what was signed on it without a signal."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.urls import reverse
from django.utils.translation import gettext as _

from compliance.services.sealed import MOST_ANSWERS, BadSealError, Sent, TooManySealsError, YearError, receive
from compliance.services.signing import LONGEST_REASON
from records.document.faults import DocumentFaults
from records.document.json_text import Bounds, load
from records.pages.firm_page import FirmPage
from records.services.keys import SigningKeyError
from shared.times import TimeError

MOST = Bounds(most_bytes=2 * 1024 * 1024, most_depth=6)
MEMBERS = set(Sent.__dataclass_fields__)


class SealPage(FirmPage):
    permission = "records.sign_treatment"

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        try:
            seal = receive(treatment, request.user, _sent(request.body))
        except TooManySealsError:
            return _refused(_("Too many signatures for this treatment did not fit. Ask your manager."))
        except YearError:
            return _refused(_("The clock of this device is far off. Set it, then sign again."))
        except (BadSealError, TimeError, ValueError):
            return _refused(_("This signature does not hold. Sign again when there is a connection."))
        except SigningKeyError:
            return HttpResponse(status=503)
        signed = seal.record and reverse("signed", kwargs={"uuid": treatment.pk})
        why_not = [] if signed else [each[self.language] for each in seal.why_not]
        return JsonResponse({"signed": signed, "whyNot": why_not})


def _refused(words: str) -> HttpResponse:
    return JsonResponse({"fault": words}, status=422)


def _sent(body: bytes) -> Sent:
    """What the device sends, strictly. Raises ValueError."""
    try:
        value = load(body, MOST)
    except DocumentFaults as error:
        raise ValueError("not JSON") from error
    if not isinstance(value, dict) or set(value) != MEMBERS:
        raise ValueError("other members")
    answers = value["answers"]
    texts = [text for name, text in value.items() if name != "answers"]
    if not (all(isinstance(text, str) for text in texts) and isinstance(answers, list)):
        raise ValueError("another shape")
    UUID(value["key"])
    if len(answers) > MOST_ANSWERS or not all(_is_answer(answer) for answer in answers):
        raise ValueError("answers of another shape")
    return Sent(**value)


def _is_answer(answer: object) -> bool:
    return (
        isinstance(answer, dict)
        and set(answer) == {"rule", "about", "reason"}
        and isinstance(answer["rule"], str)
        and isinstance(answer["reason"], str)
        and len(answer["reason"]) <= LONGEST_REASON
        and isinstance(answer["about"], list)
        and all(isinstance(path, str) for path in answer["about"])
    )
