"""Lists come in pages that begin after a row, so that each costs the same and none is read twice."""

from collections.abc import Iterable
from functools import cache
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.db.models import Model, Q, QuerySet
from drf_spectacular.utils import inline_serializer
from rest_framework import serializers
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from records.programs.calls import sent

USUAL, MOST = 50, 200
AFTER, LIMIT = "after", "limit"


class PageQuery(serializers.Serializer):
    """Which page is asked for."""

    after = serializers.UUIDField(required=False, help_text="The id of the last row that you have.")
    limit = serializers.IntegerField(default=USUAL, min_value=1, max_value=MOST)


def asked(
    request: Request, shape: type[serializers.Serializer] = PageQuery, more: Iterable[str] = ()
) -> dict[str, Any]:
    """What the query asks for. Raises ValidationError for what it can't: an unknown name would be left unread,
    and more found than was asked for."""
    unknown = set(request.query_params) - set(shape().fields) - set(more)
    if unknown:
        raise ValidationError({name: ["This is not known here."] for name in sorted(unknown)})
    return sent(shape, request.query_params)


def row_of(rows: QuerySet[Any], key: UUID | None) -> Any:
    """The row after which a page begins; None for the first. Raises ValidationError where it is not there."""
    if key is None:
        return None
    found = rows.filter(pk=key).first()
    if found is None:
        raise ValidationError({AFTER: ["There is no such row here."]})
    return found


def newest_first(rows: QuerySet[Any], moment: str, last: Model | None) -> QuerySet[Any]:
    """The rows by this moment, the newest first, after `last`."""
    ordered = rows.order_by(f"-{moment}", "-pk")
    if last is None:
        return ordered
    at = getattr(last, moment)
    return ordered.filter(Q(**{f"{moment}__lt": at}) | Q(**{moment: at, "pk__lt": last.pk}))


def newest_page(
    request: Request, rows: QuerySet[Any], moment: str, shape: type[serializers.Serializer]
) -> Response:
    """The page of these rows that the query asks for, the newest by this moment first."""
    query = asked(request)
    last = row_of(rows, query.get(AFTER))
    return page(request, newest_first(rows, moment, last), query[LIMIT], shape)


def page(request: Request, rows: QuerySet[Any], limit: int, shape: type[serializers.Serializer]) -> Response:
    """So many of the rows, and the address of what follows."""
    found = list(rows[: limit + 1])
    return answer(request, found[:limit], len(found) > limit and str(found[limit - 1].pk), shape)


def answer(request: Request, items: Any, last: Any, shape: type[serializers.Serializer]) -> Response:
    query = {**request.query_params.dict(), AFTER: last}
    following = f"{request.path}?{urlencode(query)}" if last else None
    context = {"request": request}
    return Response({"items": shape(items, many=True, context=context).data, "next": following})


@cache
def page_shape(shape: type[serializers.Serializer]) -> serializers.Serializer:
    """How a page of these looks, for the description."""
    name = shape.__name__.removesuffix("Serializer")
    members = {
        "items": shape(many=True),
        "next": serializers.CharField(allow_null=True, help_text="The address of the next page."),
    }
    return inline_serializer(f"{name}Page", members)
