"""A form that is sent twice, as by a double press, has one key."""

from typing import Any
from uuid import UUID, uuid4, uuid5

from django.http import HttpRequest

from records.models import Firm

FIELD = "key"
_OF_NO_MEANING = ("csrfmiddlewaretoken",)


def new_key(request: HttpRequest) -> str:
    """For the form: the one that it came with, where it is shown again."""
    return request.POST.get(FIELD) or str(uuid4())


def key_of(request: HttpRequest, firm: Firm) -> UUID:
    """The same for the same form with the same in it; another where something was changed in between."""
    try:
        key = uuid5(firm.pk, str(UUID(request.POST.get(FIELD, ""))))
    except ValueError:
        return uuid4()
    sent: list[Any] = sorted((name, each) for name, each in request.POST.lists() if name not in _OF_NO_MEANING)
    return uuid5(key, f"{request.get_full_path()} {sent}")
