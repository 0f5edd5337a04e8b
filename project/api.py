"""The map of the API, version 1, and its own description."""

from django.urls import path
from drf_spectacular.views import SpectacularJSONAPIView

from compliance.api import CheckView, EditsThenSealsView, SignView
from compliance.programs.bundles import BundlesView, BundleView, HandedOverView, TakeOutView
from compliance.programs.findings import FindingsView
from compliance.programs.requests import CloseView, MatchesView, RequestsView, RequestView
from compliance.programs.signed import CheckedVersionView
from records.api import TreatmentView
from records.programs.choices import PeopleView, ProductsView, RigsView, SitesView
from records.programs.notices import NoticesView
from records.programs.signed import VersionsView
from records.programs.stock import MovesView, StockView
from records.programs.treatments import TreatmentsView

urlpatterns = [
    path("schema/", SpectacularJSONAPIView.as_view(), name="api_schema"),
    path("choices/sites/", SitesView.as_view(), name="api_sites"),
    path("choices/people/", PeopleView.as_view(), name="api_people"),
    path("choices/products/", ProductsView.as_view(), name="api_products"),
    path("choices/rigs/", RigsView.as_view(), name="api_rigs"),
    path("findings/", FindingsView.as_view(), name="api_findings"),
    path("notices/", NoticesView.as_view(), name="api_notices"),
    path("requests/", RequestsView.as_view(), name="api_requests"),
    path("requests/<uuid:asked>/", RequestView.as_view(), name="api_request"),
    path("requests/<uuid:asked>/treatments/", MatchesView.as_view(), name="api_matches"),
    path("requests/<uuid:asked>/bundles/", BundlesView.as_view(), name="api_bundles"),
    path("requests/<uuid:asked>/bundles/<uuid:bundle>/", BundleView.as_view(), name="api_bundle"),
    path("requests/<uuid:asked>/bundles/<uuid:bundle>/take-out/", TakeOutView.as_view(), name="api_take_out"),
    path("requests/<uuid:asked>/handed-over/", HandedOverView.as_view(), name="api_handed_over"),
    path("requests/<uuid:asked>/close/", CloseView.as_view(), name="api_close_request"),
    path("stock/", StockView.as_view(), name="api_stock"),
    path("stock/<uuid:lot>/moves/", MovesView.as_view(), name="api_moves"),
    path("treatments/", TreatmentsView.as_view(), name="api_treatments"),
    path("treatments/<uuid:uuid>/", TreatmentView.as_view(), name="api_treatment"),
    path("treatments/<uuid:uuid>/edits/", EditsThenSealsView.as_view(), name="api_edits"),
    path("treatments/<uuid:uuid>/check/", CheckView.as_view(), name="api_check"),
    path("treatments/<uuid:uuid>/sign/", SignView.as_view(), name="api_sign"),
    path("treatments/<uuid:uuid>/versions/", VersionsView.as_view(), name="api_versions"),
    path(
        "treatments/<uuid:uuid>/versions/<int:version>/", CheckedVersionView.as_view(), name="api_version"
    ),
]
