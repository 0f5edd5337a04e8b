"""The register over the API: find treatments, plan one."""

from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from records.document.faults import DocumentFaults
from records.document.time_kinds import YEARS
from records.document.words import WORD_LISTS
from records.forms.register_search import OF_FINDINGS, ORDER_WORDS, RegisterSearch, search_in
from records.models import Firm, Lot, Person, Product, Rig, Site, Surface, Treatment
from records.pages.seen import note_seen
from records.programs.amounts import AmountField
from records.programs.calls import made, sent
from records.programs.pages import AFTER, PageQuery, asked, page, page_shape, row_of
from records.programs.repeats import Repeatable
from records.programs.views import FirmView, demand_scope, in_scope
from records.register_search import page_after, treatments_of
from records.services.planning import Plan, PlannedProduct, plan_treatment
from records.services.projection import SEPARATOR
from shared.tenancy import FirmOwned

MOST_NAMED = 50
FINDINGS = "read-findings"
"""The scope of what the rules said."""


class Names(serializers.ListField):
    """A column that holds several names, as a list."""

    child = serializers.CharField()

    def to_representation(self, data: str) -> list[str]:
        return data.split(SEPARATOR) if data else []


class FoundSerializer(serializers.Serializer):
    """A treatment as the register has it. `outcome` is that of its last check, for who may see checks; a token
    is for that with the scope `read-findings`."""

    id = serializers.UUIDField(source="uuid")
    number = serializers.CharField()
    state = serializers.ChoiceField(Treatment.State.choices)
    day = serializers.DateField()
    planned_at = serializers.DateTimeField()
    site = serializers.UUIDField(source="site_id")
    site_name = serializers.CharField()
    customer_name = serializers.CharField()
    applicators = Names()
    products = Names()
    result = serializers.CharField()
    revision = serializers.IntegerField()
    outcome = serializers.SerializerMethodField()

    def get_outcome(self, treatment: Treatment) -> str:
        request = self.context["request"]
        sees = in_scope(request, FINDINGS) and request.user.has_perm("records.view_draft", treatment)
        return treatment.outcome if sees else ""


class ProductLineSerializer(serializers.Serializer):
    product = serializers.UUIDField()
    lot = serializers.UUIDField(required=False)
    amount = AmountField("volume", "mass", required=False)


class PlanSerializer(serializers.Serializer):
    """What is known of a treatment before it is made; the ids are those of /choices/."""

    site = serializers.UUIDField()
    planned_at = serializers.DateTimeField()
    surfaces = serializers.ListField(child=serializers.UUIDField(), min_length=1, max_length=MOST_NAMED)
    people = serializers.ListField(child=serializers.UUIDField(), default=list, max_length=MOST_NAMED)
    products = ProductLineSerializer(many=True, default=list, max_length=MOST_NAMED)
    diluent = AmountField("volume", required=False)
    rig = serializers.UUIDField(required=False)
    targets = serializers.ListField(
        child=serializers.ChoiceField(list(WORD_LISTS["target"])), default=list, max_length=MOST_NAMED
    )

    def validate_planned_at(self, value: datetime) -> datetime:
        if value.astimezone(UTC).year not in YEARS:
            raise serializers.ValidationError(f"Give a time of the years {YEARS.start} to {YEARS.stop - 1}.")
        return value


class PlannedSerializer(serializers.Serializer):
    id = serializers.UUIDField()
    number = serializers.CharField()
    address = serializers.CharField(help_text="Where its document is read.")


def search_parameters() -> list[OpenApiParameter]:
    """What the register can be asked for."""
    words = {"order": list(ORDER_WORDS)}
    return [
        OpenApiParameter(name, str, enum=words.get(name), description=str(each.label))
        for name, each in RegisterSearch.base_filters.items()
    ]


def found_in(view: FirmView, request: Request, **also: str) -> tuple[Any, int]:
    """What the query finds, after the row that it names, and how many of it are wanted."""
    query = asked(request, PageQuery, RegisterSearch.base_filters)
    firm, drafts = view.firm(), view.may("records.view_draft")
    of_findings = sorted(set(request.query_params) & set(OF_FINDINGS))
    if of_findings and not drafts:
        raise ValidationError({name: ["This is not known here."] for name in of_findings})
    if of_findings:
        demand_scope(request, FINDINGS)
    search = search_in(firm, {**request.query_params.dict(), **also}, findings=drafts)
    if not search.is_valid():
        raise ValidationError({name: list(errors) for name, errors in search.form.errors.items()})
    order = search.order_of()
    rows = treatments_of(firm, search.wanted(), drafts=drafts, order=order)
    last = row_of(Treatment.objects.for_firm(firm), query.get(AFTER))
    if last and not order.places(last):
        raise ValidationError({AFTER: ["It has no place in this order."]})
    return page_after(rows, last, order), query["limit"]


@extend_schema_view(
    get=extend_schema(
        parameters=[PageQuery, *search_parameters()],
        responses=page_shape(FoundSerializer),
        summary=_("Find treatments"),
    ),
    post=extend_schema(
        request=PlanSerializer,
        responses={201: PlannedSerializer},
        summary=_("Plan a treatment"),
        description="Make a draft. What is done is then written into it with edits.",
    ),
)
class TreatmentsView(Repeatable, FirmView):
    once = True

    def get(self, request: Request) -> Response:
        """The treatments that the query lets through: each part that is given must fit."""
        self.demand("records.view_treatment")
        rows, limit = found_in(self, request)
        note_seen(request, self.firm())
        return page(request, rows, limit, FoundSerializer)

    def do(self, request: Request) -> Response:
        firm = self.demand("records.plan_treatment")
        given = sent(PlanSerializer, request.data)
        try:
            planned = plan_treatment(firm, request.user, _plan(firm, given))
        except (DocumentFaults, ValueError) as error:
            raise ValidationError(str(error)) from error
        return made({"id": str(planned.pk), "number": planned.number}, "api_treatment", uuid=planned.pk)


def _plan(firm: Firm, given: dict[str, Any]) -> Plan:
    def row(model: type[FirmOwned], key: UUID | None, at: str) -> Any:
        found = key and model.objects.for_firm(firm).filter(pk=key).first()
        if key and found is None:
            raise ValidationError({at: ["There is no such row here."]})
        return found

    lines = [
        PlannedProduct(
            row(Product, each["product"], "products"), row(Lot, each.get("lot"), "products"), each.get("amount")
        )
        for each in given["products"]
    ]
    return Plan(
        site=row(Site, given["site"], "site"),
        planned_at=given["planned_at"],
        surfaces=[row(Surface, each, "surfaces") for each in dict.fromkeys(given["surfaces"])],
        people=[row(Person, each, "people") for each in dict.fromkeys(given["people"])],
        products=lines,
        diluent=given.get("diluent"),
        rig=row(Rig, given.get("rig"), "rig"),
        targets=list(dict.fromkeys(given["targets"])),
    )
