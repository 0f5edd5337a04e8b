"""The rows that a plan names, over the API: sites with surfaces, people, products with lots, rigs."""

from typing import Any, ClassVar

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from records.models import Lot, Person, Product, Rig, Site
from records.pages.seen import note_seen
from records.programs.pages import PageQuery, asked, page, page_shape, row_of
from records.programs.views import FirmView


class NamedSerializer(serializers.Serializer):
    id = serializers.UUIDField(source="uuid")
    name = serializers.CharField()


class SiteSerializer(NamedSerializer):
    customer = serializers.CharField(source="customer.name")
    county = serializers.CharField()
    jurisdictions = serializers.ListField(child=serializers.CharField())
    surfaces = NamedSerializer(many=True)


class LotSerializer(serializers.Serializer):
    id = serializers.UUIDField(source="uuid")
    number = serializers.CharField()
    registration_number = serializers.CharField(source="label.registration_number")


class ProductSerializer(NamedSerializer):
    lots = serializers.SerializerMethodField()

    @extend_schema_field(LotSerializer(many=True))
    def get_lots(self, product: Product) -> list[dict[str, Any]]:
        lots = Lot.objects.for_firm(product.firm).filter(label__product=product).select_related("label")
        return list(LotSerializer(lots.order_by("number", "pk"), many=True).data)


class ChoicesView(FirmView):
    shape: ClassVar[type[serializers.Serializer]]

    def rows(self) -> QuerySet[Any]:
        raise NotImplementedError

    def get(self, request: Request) -> Response:
        self.demand("records.plan_treatment")
        query, rows = asked(request), self.rows().order_by("pk")
        last = row_of(rows, query.get("after"))
        note_seen(request, self.firm())
        return page(request, rows.filter(pk__gt=last.pk) if last else rows, query["limit"], self.shape)


def _choices(shape: type[serializers.Serializer], summary: Any) -> Any:
    return extend_schema(parameters=[PageQuery], responses=page_shape(shape), summary=summary)


class SitesView(ChoicesView):
    shape = SiteSerializer
    get = _choices(SiteSerializer, _("Sites to choose from"))(ChoicesView.get)

    def rows(self) -> QuerySet[Site]:
        sites: QuerySet[Site] = Site.objects.for_firm(self.firm())
        return sites.select_related("customer").prefetch_related("surfaces")


class PeopleView(ChoicesView):
    shape = NamedSerializer
    get = _choices(NamedSerializer, _("People to choose from"))(ChoicesView.get)

    def rows(self) -> QuerySet[Person]:
        people: QuerySet[Person] = Person.objects.for_firm(self.firm())
        return people.filter(active=True)


class ProductsView(ChoicesView):
    shape = ProductSerializer
    get = _choices(ProductSerializer, _("Products and lots to choose from"))(ChoicesView.get)

    def rows(self) -> QuerySet[Product]:
        products: QuerySet[Product] = Product.objects.for_firm(self.firm())
        return products.select_related("firm")


class RigsView(ChoicesView):
    shape = NamedSerializer
    get = _choices(NamedSerializer, _("Rigs to choose from"))(ChoicesView.get)

    def rows(self) -> QuerySet[Rig]:
        rigs: QuerySet[Rig] = Rig.objects.for_firm(self.firm())
        return rigs.filter(active=True)
