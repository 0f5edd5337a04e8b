"""What most calls have to do: read what was sent, and say where that is which was made of it."""

from typing import Any
from uuid import UUID

from django.urls import reverse
from rest_framework import serializers, status
from rest_framework.response import Response


def sent(shape: type[serializers.Serializer], data: Any, **context: Any) -> dict[str, Any]:
    """The data as this shape reads them, `context` being what it has to know. Raises ValidationError."""
    given = shape(data=data, context=context)
    given.is_valid(raise_exception=True)
    return dict(given.validated_data)


def made(said: dict[str, Any], address_name: str, **keys: UUID) -> Response:
    """That it was made, with its address in the body and in its header."""
    address = reverse(address_name, kwargs=keys)
    return Response({**said, "address": address}, status=status.HTTP_201_CREATED, headers={"Location": address})
