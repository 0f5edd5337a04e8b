"""Requests for records over the API: take one in, see what meets it and what was handed over, close it."""

from datetime import datetime
from uuid import UUID

from django.http import Http404
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from compliance.models import RecordsRequest
from compliance.programs.request_shapes import (
    ClosedSerializer,
    CloseSerializer,
    NewRequestSerializer,
    OneRequestSerializer,
    RequestSerializer,
    TakenSerializer,
)
from compliance.selectors import today_of
from compliance.services import request_matches
from compliance.services.requests import answer_duties, close_request, take_request
from records.forms.register_search import search_in
from records.pages.seen import note_seen
from records.programs.pages import PageQuery, asked, newest_first, page, page_shape, row_of
from records.programs.problems import Conflicted
from records.programs.repeats import Repeatable
from records.programs.treatments import FoundSerializer
from records.programs.views import FirmView
from records.register.orders import NEWEST
from records.register_search import page_after


class RequestsOnly(FirmView):
    scope, write_scope = "read-requests", "write-requests"

    def asked(self, key: UUID) -> RecordsRequest:
        """The firm's request of this id, which it is noted is seen; Http404 where there is none."""
        firm = self.demand("records.hand_over")
        found = RecordsRequest.objects.for_firm(firm).select_related("firm").filter(pk=key).first()
        if found is None:
            raise Http404("no such request")
        if self.request.method == "GET":
            note_seen(self.request, firm, found)
        return found


@extend_schema_view(
    post=extend_schema(
        request=NewRequestSerializer,
        responses={201: TakenSerializer},
        summary=_("Take in a request for records"),
        description="When the answer is due comes from the paragraph, or from what they set if that is sooner.",
    )
)
class RequestsView(Repeatable, RequestsOnly):
    once = True

    @extend_schema(
        parameters=[PageQuery], responses=page_shape(RequestSerializer), summary=_("Requests for records")
    )
    def get(self, request: Request) -> Response:
        """The newest first."""
        firm, query = self.demand("records.hand_over"), asked(request)
        rows = RecordsRequest.objects.for_firm(firm)
        last = row_of(rows, query.get("after"))
        note_seen(request, firm)
        return page(request, newest_first(rows, "made_at", last), query["limit"], RequestSerializer)

    def do(self, request: Request) -> Response:
        firm = self.demand("records.hand_over")
        sent = NewRequestSerializer(data=request.data)
        sent.is_valid(raise_exception=True)
        given = dict(sent.validated_data)
        chosen = given.pop("duty")
        duty = next((each for each in answer_duties(firm, today_of(firm)) if each.key == chosen), None)
        if chosen and duty is None:
            raise ValidationError({"duty": ["No pack in force says so."]})
        search = search_in(firm, given["wanted"], findings=True)
        if not search.is_whole():
            raise ValidationError({"wanted": ["The register can't be asked for this."]})
        given["wanted"] = search.wanted().as_json()
        made = take_request(firm, request.user, given, duty)
        address = reverse("api_request", kwargs={"asked": made.pk})
        said = {"id": str(made.pk), "due_at": _said(made.due_at), "due_from": made.due_from, "address": address}
        return Response(said, status=201, headers={"Location": address})


class RequestView(RequestsOnly):
    @extend_schema(responses=OneRequestSerializer, summary=_("A request, and how many records meet it"))
    def get(self, request: Request, asked: UUID) -> Response:
        """What was asked for, by whom, until when."""
        return Response(OneRequestSerializer(self.asked(asked)).data)


class MatchesView(RequestsOnly):
    @extend_schema(
        parameters=[PageQuery],
        responses=page_shape(FoundSerializer),
        summary=_("The signed records that meet it"),
    )
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """The newest day first."""
        row, query = self.asked(kwargs["asked"]), asked(request)
        found = request_matches.signed_matches(row)
        last = row_of(found, query.get("after"))
        return page(request, page_after(found, last, NEWEST), query["limit"], FoundSerializer)


@extend_schema_view(
    post=extend_schema(
        request=CloseSerializer, responses=ClosedSerializer, summary=_("Close a request for records")
    )
)
class CloseView(Repeatable, RequestsOnly):
    once = True

    def do(self, request: Request, asked: UUID) -> Response:
        """It needs nothing any more; what was handed over stays with it."""
        row = self.asked(asked)
        given = CloseSerializer(data=request.data)
        given.is_valid(raise_exception=True)
        if row.closed_at:
            raise Conflicted("The request is closed.")
        close_request(row, request.user, given.validated_data["why"])
        return Response({"id": str(row.pk), "closed_at": _said(row.closed_at)})


def _said(moment: datetime | None) -> str | None:
    return moment and moment.isoformat()
