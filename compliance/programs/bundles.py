"""Bundles that answer a request, over the API: have one made, see how far it is, take it out."""

from typing import Any
from uuid import UUID

from django.http import FileResponse, Http404
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework.request import Request
from rest_framework.response import Response

from compliance.models import Handing, RecordsRequest, RequestAnswer
from compliance.pages.handings import LAW
from compliance.programs.bundle_shapes import (
    BegunSerializer,
    BundleSerializer,
    HandedOverSerializer,
    NewBundleSerializer,
)
from compliance.programs.requests import RequestsOnly
from compliance.request_bundle.folder import file_of
from compliance.services import request_matches
from compliance.services.handings import NotNowError, begin, take_out
from records.forms.hand_over import SECTIONS
from records.pages.seen import note_seen
from records.programs.pages import PageQuery, asked, newest_first, page, page_shape, row_of
from records.programs.problems import Conflicted
from records.programs.repeats import Repeatable
from records.services.handing_over import left_out

ZIP = "application/zip"


class BundlesOnly(RequestsOnly):
    def handing(self, request: RecordsRequest, key: UUID) -> Handing:
        """The bundle of this id for this request; Http404 where there is none."""
        rows = Handing.objects.for_firm(request.firm).filter(request=request)
        found = rows.select_related("firm", "request", "by").filter(pk=key).first()
        if found is None:
            raise Http404("no such bundle")
        if self.request.method == "GET":
            note_seen(self.request, request.firm, found)
        return found


@extend_schema_view(
    post=extend_schema(
        request=NewBundleSerializer,
        responses={201: BegunSerializer},
        summary=_("Have a bundle made"),
        description="Of all signed records that meet it. The worker makes it; nothing is handed over yet.",
    )
)
class BundlesView(Repeatable, BundlesOnly):
    once = True

    @extend_schema(
        parameters=[PageQuery], responses=page_shape(BundleSerializer), summary=_("Bundles for a request")
    )
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """The newest first."""
        row, query = self.asked(kwargs["asked"]), asked(request)
        rows = Handing.objects.for_firm(row.firm).filter(request=row).prefetch_related("answers")
        last = row_of(rows, query.get("after"))
        return page(request, newest_first(rows, "at", last), query["limit"], BundleSerializer)

    def do(self, request: Request, **kwargs: UUID) -> Response:
        row = self.asked(kwargs["asked"])
        sent = NewBundleSerializer(data=request.data)
        sent.is_valid(raise_exception=True)
        wanted: dict[str, Any] = dict(sent.validated_data)
        without = left_out(wanted["withheld"])
        wanted["withheld"] = [name for name in SECTIONS if name in without]
        treatments = list(request_matches.signed_matches(row).order_by("number").values_list("pk", flat=True))
        if row.closed_at:
            raise Conflicted("The request is closed.")
        if wanted["findings"] and row.asked_by not in LAW:
            raise Conflicted("Findings leave the house only for an authority or a court.")
        if not treatments:
            raise Conflicted("Nothing of this is signed, so there is nothing to hand over.")
        made = begin(row, request.user, treatments, **wanted)
        address = reverse("api_bundle", kwargs={"asked": row.pk, "bundle": made.pk})
        return Response({"id": str(made.pk), "address": address}, status=201, headers={"Location": address})


class BundleView(BundlesOnly):
    @extend_schema(responses=BundleSerializer, summary=_("How far a bundle is"))
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """Once its state is `ready` it can be taken out."""
        made = self.handing(self.asked(kwargs["asked"]), kwargs["bundle"])
        return Response(BundleSerializer(made).data)


@extend_schema_view(
    post=extend_schema(
        request=None,
        responses={(200, ZIP): OpenApiTypes.BINARY},
        summary=_("Take a bundle out"),
        description="The file. With the first time it counts as handed over, and each time is noted.",
    )
)
class TakeOutView(Repeatable, BundlesOnly):
    def do(self, request: Request, **kwargs: UUID) -> FileResponse:
        made = self.handing(self.asked(kwargs["asked"]), kwargs["bundle"])
        try:
            file = file_of(made).open("rb")
            take_out(made, request.user)
        except (NotNowError, FileNotFoundError):
            raise Conflicted("There is no file of it now.") from None
        return FileResponse(file, as_attachment=True, filename=f"{made.pk}.zip", content_type=ZIP)


class HandedOverView(RequestsOnly):
    @extend_schema(
        parameters=[PageQuery],
        responses=page_shape(HandedOverSerializer),
        summary=_("What was handed over in answer to it"),
    )
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """The newest first."""
        row, query = self.asked(kwargs["asked"]), asked(request)
        rows = RequestAnswer.objects.for_firm(row.firm).filter(request=row)
        last = row_of(rows, query.get("after"))
        return page(request, newest_first(rows, "at", last), query["limit"], HandedOverSerializer)
