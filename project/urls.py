"""The whole map on one page."""

from django.contrib import admin
from django.urls import include, path

from project import pages
from records.pages.changes import Correct, FollowUp, StandDown, Void
from records.pages.home import Home
from records.pages.mix import mix
from records.pages.plan import ChooseSite, PlanTreatment
from records.pages.register import Register
from records.pages.section import SectionPage
from records.pages.treatment import RecordFile, TreatmentPage

treatment = [
    path("", TreatmentPage.as_view(), name="treatment"),
    path("form/<slug:section>/", SectionPage.as_view(), name="section"),
    path("stand-down/", StandDown.as_view(), name="stand_down"),
    path("correct/", Correct.as_view(), name="correct"),
    path("void/", Void.as_view(), name="void"),
    path("follow-up/", FollowUp.as_view(), name="follow_up"),
    path("versions/<int:version>/record.json", RecordFile.as_view(), name="record_file"),
]

urlpatterns = [
    path("", Home.as_view(), name="home"),
    path("health/", pages.health, name="health"),
    path("account/", pages.account, name="account"),
    path("accounts/", include("allauth.urls")),
    path("language/", include("django.conf.urls.i18n")),
    path("admin/", admin.site.urls),
    path("mix/", mix, name="mix"),
    path("treatments/", Register.as_view(), name="register"),
    path("treatments/plan/", ChooseSite.as_view(), name="plan_site"),
    path("treatments/plan/<uuid:site>/", PlanTreatment.as_view(), name="plan"),
    path("treatments/<uuid:uuid>/", include(treatment)),
]
