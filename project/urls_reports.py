"""The part of the map that is about use reports."""

from django.urls import path

from compliance.pages.report_files import (
    Behind,
    FiledBehind,
    FiledCsv,
    FiledPaper,
    ReportCsv,
    ReportPaper,
)
from compliance.pages.report_one import FiledOne, OneReport
from compliance.pages.reports import Reports

urlpatterns = [
    path("", Reports.as_view(), name="reports"),
    path("filed/<uuid:filed>/", FiledOne.as_view(), name="filed_report"),
    path("filed/<uuid:filed>/<slug:table>/<int:line>/", FiledBehind.as_view(), name="filed_behind"),
    path("filed/<uuid:filed>/report-<slug:language>.pdf", FiledPaper.as_view(), name="filed_paper"),
    path("filed/<uuid:filed>/<slug:table>.csv", FiledCsv.as_view(), name="filed_csv"),
    path("<str:duty>/<slug:period>/", OneReport.as_view(), name="report"),
    path("<str:duty>/<slug:period>/<slug:table>/<int:line>/", Behind.as_view(), name="report_behind"),
    path("<str:duty>/<slug:period>/report-<slug:language>.pdf", ReportPaper.as_view(), name="report_paper"),
    path("<str:duty>/<slug:period>/<slug:table>.csv", ReportCsv.as_view(), name="report_csv"),
]
