"""The shelf over the API: what should be there of each lot, and what came, went or was counted."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from records.document.time_kinds import YEARS
from records.models import Lot, StockMove
from records.on_shelf import OnShelf
from records.pages.seen import note_seen
from records.programs.amounts import AmountField
from records.programs.calls import sent
from records.programs.pages import LIMIT, MOST, USUAL, answer, asked, page_shape
from records.programs.problems import KeyUsed
from records.programs.repeats import HEADER, Repeatable
from records.programs.views import FirmView
from records.services.stock import Move, ToldOtherwiseError, move_stock
from records.services.stock_rules import faults
from records.stock import shelf_of

TYPED = [(kind.value, kind.label) for kind in StockMove.WITH_AMOUNT]


class StockQuery(serializers.Serializer):
    after = serializers.CharField(required=False, max_length=100, help_text="The last number that you have.")
    limit = serializers.IntegerField(default=USUAL, min_value=1, max_value=MOST)


class ShelfSerializer(serializers.Serializer):
    """A lot of a product. `on_hand` is null where it can't be told; `lacks`: it does not add up."""

    lot = serializers.UUIDField(source="lot.pk")
    number = serializers.CharField()
    product = serializers.UUIDField(source="product.pk")
    product_name = serializers.CharField(source="product.name")
    on_hand = AmountField("volume", "mass", allow_null=True)
    lacks = serializers.SerializerMethodField()
    counts_beyond = serializers.SerializerMethodField(
        help_text="How many counts differ by more than the firm's share and are not explained."
    )

    def get_lacks(self, shelf: OnShelf) -> bool:
        return shelf.lacks

    def get_counts_beyond(self, shelf: OnShelf) -> int:
        return len(shelf.counts_beyond)


class MoveSerializer(serializers.Serializer):
    """What came, went or was counted of the lot on a day."""

    kind = serializers.ChoiceField(TYPED)
    amount = AmountField("volume", "mass")
    on = serializers.DateField()
    why = serializers.CharField(max_length=500, default="", allow_blank=True)

    def validate_on(self, value: Any) -> Any:
        if value.year not in YEARS:
            raise serializers.ValidationError(f"Give a day of the years {YEARS.start} to {YEARS.stop - 1}.")
        return value

    def validate(self, attrs: Any) -> Any:
        if found := dict(faults(self.context["firm"], **attrs)):
            raise serializers.ValidationError(found)
        return attrs


class MovedSerializer(serializers.Serializer):
    id = serializers.UUIDField()
    lot = serializers.UUIDField()


class StockView(FirmView):
    scope = "read-stock"

    @extend_schema(
        parameters=[StockQuery], responses=page_shape(ShelfSerializer), summary=_("What is on the shelf")
    )
    def get(self, request: Request) -> Response:
        """By the numbers of the lots."""
        firm, query = self.demand("records.keep_stock"), asked(request, StockQuery)
        lots = Lot.objects.for_firm(firm)
        numbers = lots.filter(number__gt=query.get("after", "")).order_by("number")
        named = list(numbers.values_list("number", flat=True).distinct()[: query[LIMIT] + 1])
        shown = named[: query[LIMIT]]
        note_seen(request, firm)
        shelves = shelf_of(firm, lots.filter(number__in=shown).select_related("firm", "label__product"))
        ordered = sorted(shelves, key=lambda each: (each.number, str(each.product.pk)))
        return answer(request, ordered, shown[-1] if len(named) > len(shown) else None, ShelfSerializer)


@extend_schema_view(
    post=extend_schema(
        request=MoveSerializer,
        responses={201: MovedSerializer},
        summary=_("Write down what happened to a lot"),
        description="It is never changed: what was wrong is taken back on the page of the lot.",
    )
)
class MovesView(Repeatable, FirmView):
    write_scope = "write-stock"
    once = True

    def do(self, request: Request, lot: UUID) -> Response:
        firm = self.demand("records.keep_stock")
        of = get_object_or_404(Lot.objects.for_firm(firm), pk=lot)
        given = sent(MoveSerializer, request.data, firm=firm)
        told = f"api:{request.user.pk}:{request.headers[HEADER]}"
        try:
            made = move_stock(of, request.user, Move(told=told, **given))
        except ToldOtherwiseError as error:
            raise KeyUsed("By this key something else was written down. Take a new one.") from error
        return Response({"id": str(made.pk), "lot": str(of.pk)}, status=201)
