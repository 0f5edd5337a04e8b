"""Bundles that answer a request, over the API: have one made, see how far it is, take it out."""

from uuid import UUID

from django.http import FileResponse, Http404
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
from compliance.services.handings import EmptyLogError, FitsByNowError, NotNowError, begin, take_out
from records.forms.hand_over import SECTIONS
from records.pages.seen import note_seen
from records.programs.calls import made, sent
from records.programs.pages import PageQuery, newest_page, page_shape
from records.programs.problems import Conflicted
from records.programs.repeats import Repeatable
from records.programs.treatments import FINDINGS
from records.programs.views import demand_scope
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
        description=(
            "Of all signed records that meet it; where none does, its letter says so and no record is in it. "
            "The worker makes it; nothing is handed over yet."
        ),
    )
)
class BundlesView(Repeatable, BundlesOnly):
    once = True

    @extend_schema(
        parameters=[PageQuery], responses=page_shape(BundleSerializer), summary=_("Bundles for a request")
    )
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """The newest first."""
        row = self.request_of(kwargs["asked"])
        rows = Handing.objects.for_firm(row.firm).filter(request=row).prefetch_related("answers")
        return newest_page(request, rows, "at", BundleSerializer)

    def do(self, request: Request, **kwargs: UUID) -> Response:
        row = self.request_of(kwargs["asked"])
        wanted = sent(NewBundleSerializer, request.data)
        without = left_out(wanted["withheld"])
        wanted["withheld"] = [name for name in SECTIONS if name in without]
        treatments = list(request_matches.signed_matches(row).order_by("number").values_list("pk", flat=True))
        if row.closed_at:
            raise Conflicted("The request is closed.")
        if wanted["findings"]:
            demand_scope(request, FINDINGS)
        if wanted["findings"] and row.asked_by not in LAW:
            raise Conflicted("Findings leave the house only for an authority or a court.")
        try:
            begun = begin(row, request.user, treatments, **wanted)
        except EmptyLogError:
            raise Conflicted("Nothing was ever signed, so there is no log to search.") from None
        except FitsByNowError:
            raise Conflicted("Something that fits was signed meanwhile. Ask again.") from None
        return made({"id": str(begun.pk)}, "api_bundle", asked=row.pk, bundle=begun.pk)


class BundleView(BundlesOnly):
    @extend_schema(responses=BundleSerializer, summary=_("How far a bundle is"))
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """Once its state is `ready` it can be taken out."""
        handing = self.handing(self.request_of(kwargs["asked"]), kwargs["bundle"])
        return Response(BundleSerializer(handing).data)


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
        handing = self.handing(self.request_of(kwargs["asked"]), kwargs["bundle"])
        try:
            file = file_of(handing).open("rb")
            take_out(handing, request.user)
        except (NotNowError, FileNotFoundError):
            raise Conflicted("There is no file of it now.") from None
        return FileResponse(file, as_attachment=True, filename=f"{handing.pk}.zip", content_type=ZIP)


class HandedOverView(RequestsOnly):
    @extend_schema(
        parameters=[PageQuery],
        responses=page_shape(HandedOverSerializer),
        summary=_("What was handed over in answer to it"),
    )
    def get(self, request: Request, **kwargs: UUID) -> Response:
        """The newest first."""
        row = self.request_of(kwargs["asked"])
        rows = RequestAnswer.objects.for_firm(row.firm).filter(request=row)
        return newest_page(request, rows, "at", HandedOverSerializer)
