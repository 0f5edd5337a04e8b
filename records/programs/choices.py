"""The rows that a plan names, over the API: sites with surfaces, people, products with lots, rigs."""

from typing import Any, ClassVar

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema, extend_schema_field, extend_schema_view
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


def _choices(summary: Any, shape: type[serializers.Serializer]) -> Any:
    return extend_schema_view(
        get=extend_schema(parameters=[PageQuery], responses=page_shape(shape), summary=summary)
    )


@_choices(_("Sites to choose from"), SiteSerializer)
class SitesView(ChoicesView):
    shape = SiteSerializer

    def rows(self) -> QuerySet[Site]:
        sites: QuerySet[Site] = Site.objects.for_firm(self.firm())
        return sites.select_related("customer").prefetch_related("surfaces")


@_choices(_("People to choose from"), NamedSerializer)
class PeopleView(ChoicesView):
    shape = NamedSerializer

    def rows(self) -> QuerySet[Person]:
        people: QuerySet[Person] = Person.objects.for_firm(self.firm())
        return people.filter(active=True)


@_choices(_("Products and lots to choose from"), ProductSerializer)
class ProductsView(ChoicesView):
    shape = ProductSerializer

    def rows(self) -> QuerySet[Product]:
        products: QuerySet[Product] = Product.objects.for_firm(self.firm())
        return products.select_related("firm")


@_choices(_("Rigs to choose from"), NamedSerializer)
class RigsView(ChoicesView):
    shape = NamedSerializer

    def rows(self) -> QuerySet[Rig]:
        rigs: QuerySet[Rig] = Rig.objects.for_firm(self.firm())
        return rigs.filter(active=True)
