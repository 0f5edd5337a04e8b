"""The map of the API, version 1, and its own description."""

from django.urls import path
from drf_spectacular.views import SpectacularJSONAPIView
from rest_framework.permissions import IsAuthenticated

from compliance.api import CheckView, EditsThenSealsView, SignView
from records.api import TreatmentView

urlpatterns = [
    path("schema/", SpectacularJSONAPIView.as_view(permission_classes=[IsAuthenticated]), name="api_schema"),
    path("treatments/<uuid:uuid>/", TreatmentView.as_view(), name="api_treatment"),
    path("treatments/<uuid:uuid>/edits/", EditsThenSealsView.as_view(), name="api_edits"),
    path("treatments/<uuid:uuid>/check/", CheckView.as_view(), name="api_check"),
    path("treatments/<uuid:uuid>/sign/", SignView.as_view(), name="api_sign"),
]
