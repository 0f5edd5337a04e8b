"""Calls that are sent with a key (`Idempotency-Key`, IETF draft of that name; from memory) are done once."""

import json
from collections.abc import Callable
from hashlib import sha256
from typing import Any, ClassVar

from django.db import IntegrityError, transaction
from django.http import HttpRequest
from drf_spectacular.utils import OpenApiParameter
from rest_framework import status
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from records.models import Firm, KeptAnswer
from records.programs.problems import KeyUsed
from shared import clock

HEADER = "Idempotency-Key"
LONGEST = KeptAnswer._meta.get_field("key").max_length


class Repeatable:
    """A view whose writes may be sent again: with a key they are told apart from others with the same words.

    With `once` the call makes something, and so needs a key: what it made and its answer are kept in one
    transaction. Without, the service itself does a repeat once, and the key is only held to its call.
    """

    once: ClassVar[bool] = False

    def initialize_request(self, request: HttpRequest, *args: Any, **kwargs: Any) -> Request:
        """The body is kept before anybody reads it: with a session the check of its form token does."""
        if HEADER in request.headers:
            _ = request.body
        return super().initialize_request(request, *args, **kwargs)  # type: ignore[misc,no-any-return]

    def post(self, request: Request, **kwargs: Any) -> Response:
        key = self._key(request)
        if key is None:
            return self.do(request, **kwargs)
        firm, asked = self.firm(), _digest_of(request)  # type: ignore[attr-defined]
        _forget_old(firm)
        if kept := _kept(firm, request, key, asked):
            return _again(kept)
        if self.once:
            return self._done_once(firm, key, asked, lambda: self.do(request, **kwargs))
        response = self.do(request, **kwargs)
        KeptAnswer.objects.for_firm(firm).get_or_create(
            firm=firm, by=request.user, key=key, defaults={"asked": asked}
        )
        return response

    def do(self, request: Request, **kwargs: Any) -> Response:
        raise NotImplementedError

    @classmethod
    def key_parameters(cls) -> list[OpenApiParameter]:
        about = "A text of your own for this call: sent again with it, the call is done once."
        return [OpenApiParameter(HEADER, str, OpenApiParameter.HEADER, required=cls.once, description=about)]

    def _key(self, request: Request) -> str | None:
        key = request.headers.get(HEADER, "").strip()
        if len(key) > LONGEST or not key.isprintable():
            raise ValidationError({HEADER: [f"Send a key of at most {LONGEST} printable signs."]})
        if self.once and not key:
            raise ValidationError({HEADER: ["This call makes something: send it with a key."]})
        return key or None

    def _done_once(self, firm: Firm, key: str, asked: str, do: Callable[[], Response]) -> Response:
        """The key is claimed first: who comes second waits for the first, and then finds its answer."""
        user = self.request.user  # type: ignore[attr-defined]
        try:
            with transaction.atomic():
                kept = KeptAnswer.objects.create(firm=firm, by=user, key=key, asked=asked)
                response = do()
                kept.status = response.status_code
                kept.answer = json.loads(json.dumps(response.data, default=str))
                kept.save(update_fields=["status", "answer"])
        except IntegrityError:
            if kept := _kept(firm, self.request, key, asked):  # type: ignore[attr-defined]
                return _again(kept)
            raise
        return response


def _digest_of(request: Request) -> str:
    said = (request.method or "").encode(), request.path.encode(), request._request.body
    return sha256(b"\n".join(said)).hexdigest()


def _kept(firm: Firm, request: Request, key: str, asked: str) -> KeptAnswer | None:
    """The answer to this very call; None where there is none to give. Raises KeyUsed for another call's."""
    row = KeptAnswer.objects.for_firm(firm).filter(by=request.user, key=key).first()
    if row and row.asked != asked:
        raise KeyUsed("Take a new key for another call.")
    return row if row and row.status else None


def _again(kept: KeptAnswer) -> Response:
    headers = {"Idempotent-Replayed": "true"}
    return Response(kept.answer, status=kept.status or status.HTTP_200_OK, headers=headers)


def _forget_old(firm: Firm) -> None:
    KeptAnswer.objects.for_firm(firm).filter(at__lt=clock.now() - KeptAnswer.KEPT).delete()
