"""What the rules said of treatments, over the API: the open findings of the newest stored check of each."""

from typing import Any

from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from compliance.models import StoredCheck
from records.models import Treatment
from records.pages.seen import note_seen
from records.programs.pages import PageQuery, answer, page_shape
from records.programs.treatments import found_in, search_parameters
from records.programs.views import FirmView

OPEN = ("not_met", "cant_tell")


class OpenFindingSerializer(serializers.Serializer):
    """A rule that is not met, or that can't be told. `about` names what of the document it is about."""

    rule = serializers.CharField()
    title = serializers.CharField()
    level = serializers.CharField()
    outcome = serializers.ChoiceField(OPEN)
    about = serializers.ListField(child=serializers.CharField())


class FindingsSerializer(serializers.Serializer):
    """A treatment with what its newest check left open. `digest` is over the whole check."""

    treatment = serializers.UUIDField(source="treatment_id")
    number = serializers.CharField(source="treatment.number")
    day = serializers.DateField(source="treatment.day")
    outcome = serializers.CharField()
    on = serializers.DateField()
    digest = serializers.CharField()
    findings = serializers.SerializerMethodField()

    @extend_schema_field(OpenFindingSerializer(many=True))
    def get_findings(self, check: StoredCheck) -> list[dict[str, Any]]:
        language = (get_language() or "en")[:2]
        found = [each for each in check.stored["findings"] if each["outcome"] in OPEN]
        told = [{**each, "title": each["title"][language], "about": list(each["about"])} for each in found]
        return list(OpenFindingSerializer(told, many=True).data)


class FindingsView(FirmView):
    scope = "read-findings"

    @extend_schema(
        parameters=[PageQuery, *search_parameters()],
        responses=page_shape(FindingsSerializer),
        summary=_("What the rules left open"),
    )
    def get(self, request: Request) -> Response:
        """Of the treatments that the query lets through; without `outcome` of those that do not meet a rule."""
        firm = self.demand("compliance.view_checks")
        also = {} if "outcome" in request.query_params else {"outcome": StoredCheck.Outcome.NOT_MET.value}
        rows, limit = found_in(self, request, **also)
        found: list[Treatment] = list(rows[: limit + 1])
        shown = [each.pk for each in found[:limit]]
        checks = StoredCheck.objects.for_firm(firm).filter(treatment__in=shown).select_related("treatment")
        newest = {check.treatment_id: check for check in checks.order_by("at", "pk")}
        note_seen(request, firm)
        last = str(shown[-1]) if len(found) > limit else None
        return answer(request, [newest[key] for key in shown if key in newest], last, FindingsSerializer)
