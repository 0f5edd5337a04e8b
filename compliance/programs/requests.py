"""Requests for records over the API: take one in, see what meets it and what was handed over, close it."""

from datetime import datetime
from uuid import UUID

from django.http import Http404
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
from records.forms.register_search import OF_FINDINGS, search_in
from records.pages.seen import note_seen
from records.programs.calls import made, sent
from records.programs.pages import PageQuery, asked, newest_page, page, page_shape, row_of
from records.programs.problems import Conflicted
from records.programs.repeats import Repeatable
from records.programs.treatments import FINDINGS, FoundSerializer
from records.programs.views import FirmView, demand_scope
from records.register.orders import NEWEST
from records.register_search import page_after


class RequestsOnly(FirmView):
    scope, write_scope = "read-requests", "write-requests"

    def request_of(self, key: UUID) -> RecordsRequest:
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
        firm = self.demand("records.hand_over")
        answer = newest_page(request, RecordsRequest.objects.for_firm(firm), "made_at", RequestSerializer)
        note_seen(request, firm)
        return answer

    def do(self, request: Request) -> Response:
        firm = self.demand("records.hand_over")
        given = sent(NewRequestSerializer, request.data)
        chosen = given.pop("duty")
        duty = next((each for each in answer_duties(firm, today_of(firm)) if each.key == chosen), None)
        if chosen and duty is None:
            raise ValidationError({"duty": ["No pack in force says so."]})
        if set(given["wanted"]) & set(OF_FINDINGS):
            demand_scope(request, FINDINGS)
        search = search_in(firm, given["wanted"], findings=True)
        if not search.is_whole():
            raise ValidationError({"wanted": ["The register can't be asked for this."]})
        given["wanted"] = search.wanted().as_json()
        taken = take_request(firm, request.user, given, duty)
        said = {"id": str(taken.pk), "due_at": _said(taken.due_at), "due_from": taken.due_from}
        return made(said, "api_request", asked=taken.pk)


class RequestView(RequestsOnly):
    @extend_schema(responses=OneRequestSerializer, summary=_("A request, and how many records meet it"))
    def get(self, request: Request, asked: UUID) -> Response:
        """What was asked for, by whom, until when."""
        return Response(OneRequestSerializer(self.request_of(asked)).data)


class MatchesView(RequestsOnly):
    @extend_schema(
        parameters=[PageQuery],
        responses=page_shape(FoundSerializer),
        summary=_("The signed records that meet it"),
    )
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """The newest day first."""
        row, query = self.request_of(kwargs["asked"]), asked(request)
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
        row = self.request_of(asked)
        given = sent(CloseSerializer, request.data)
        if row.closed_at:
            raise Conflicted("The request is closed.")
        close_request(row, request.user, given["why"])
        return Response({"id": str(row.pk), "closed_at": _said(row.closed_at)})


def _said(moment: datetime | None) -> str | None:
    return moment and moment.isoformat()
