"""The whole map on one page."""

from django.contrib import admin
from django.urls import include, path
from django.views.generic import RedirectView

from compliance.pages.before_answering import BeforeAnswering
from compliance.pages.choices import CheckedChoices
from compliance.pages.comparison import ComparisonPage
from compliance.pages.customer import CustomerPaper, SendCopy
from compliance.pages.desk.page import Desk
from compliance.pages.devices import Devices, EndDevice
from compliance.pages.form import CheckedSectionPage
from compliance.pages.handed import HandedPage
from compliance.pages.handing_link import LinkOfHanding
from compliance.pages.handing_looked_at import LookAtHanding
from compliance.pages.handings import AnswerRequest, OneHanding
from compliance.pages.incident import IncidentFacts, IncidentTold, OneIncident
from compliance.pages.incident_paper import IncidentReport
from compliance.pages.incidents import IncidentNow, Incidents, TakeIncident
from compliance.pages.keeping import Keeping
from compliance.pages.mend_request import MendRequest
from compliance.pages.new_key import NewKey
from compliance.pages.notices import NoticesPage
from compliance.pages.one_request import OneRequest
from compliance.pages.own_words import OwnWords
from compliance.pages.papers import CheckSheet, RecordSheet, SheetHandedOver, SheetsHandedOver
from compliance.pages.programs import EndProgram, Programs
from compliance.pages.register import CheckedPictures, CheckedRegister
from compliance.pages.request_papers import RequestOnForm
from compliance.pages.requests import NewRequest, Requests
from compliance.pages.rules.own import OwnRulePage, OwnRulesPage, TakeIntoUse
from compliance.pages.rules.packs import Coverage, PackPage, Rules
from compliance.pages.rules.questions import QuestionPage, Questions
from compliance.pages.rules.versions import OwnRulesAsTheyStood, PackAsItStood, PackVersions
from compliance.pages.rules.what_if import WhatIfPage
from compliance.pages.seal import SealPage
from compliance.pages.seals_again import TakesPhotos, TakesRowChanges
from compliance.pages.sheet import CheckedSheetPage
from compliance.pages.sign import SignedPage, SignPage
from compliance.pages.signatures import FollowUp, Void
from compliance.pages.signs import Placement, Sign, SignsPage
from compliance.pages.telling import PrepareNotices
from compliance.pages.treatment import CheckedRecordFile, CheckedTreatmentPage
from compliance.pages.versions import CheckedVersionChanges
from compliance.pages.week import WeekOfNotices
from project import pages
from records.pages import kept
from records.pages.alerts import LookAtAlert
from records.pages.api_described import ApiDescribed
from records.pages.bring_in import Arrival, ArrivalFaults, ArrivalOriginal, BringIn
from records.pages.changes import Correct, StandDown
from records.pages.declaring import DeclarationPage
from records.pages.holds import Hold, LiftHold
from records.pages.home import Home
from records.pages.hooks import Hooks, OneHook
from records.pages.invitation import AcceptInvitation, ChooseFirm
from records.pages.log import LogHead, LogPage, LookAtLog
from records.pages.looked_at import LookAtSeal
from records.pages.medical import MedicalCard
from records.pages.mix import mix
from records.pages.neighbours import NeighbourPage, Neighbours, OccupantPage
from records.pages.not_wanted import NotWanted, WantedAgain
from records.pages.notices_sent import FileOfNotice, FinishNoticeTask, NoticeDeed, NoticesSent, PrintPapers
from records.pages.people_files import PeopleFilePage, Registers, SendFile, SendRegister
from records.pages.photos import OnePhoto, OriginalPhoto, RemovePhoto
from records.pages.plan import ChooseSite, PlanTreatment
from records.pages.proof import ProofFile, ProofPage
from records.pages.register import RegisterCount
from records.pages.register_files import RegisterCsv, RegisterWorkbook
from records.pages.roadside import Roadside
from records.pages.saved_views import RemoveView, SavedViews, SaveView
from records.pages.tanks import Tanks
from records.pages.told import ToldPage
from records.pages.way_out import TheWayOut, WayOutFile
from records.pages.who_did_what import AuditFile, AuditPage

treatment = [
    path("", CheckedTreatmentPage.as_view(), name="treatment"),
    path("form/<slug:section>/", CheckedSectionPage.as_view(), name="section"),
    path("photos/", TakesPhotos.as_view(), name="photos"),
    path("photos/<slug:sha256>/", OnePhoto.as_view(), name="photo"),
    path("photos/<slug:sha256>/original/", OriginalPhoto.as_view(), name="photo_original"),
    path("photos/<slug:sha256>/remove/", RemovePhoto.as_view(), name="remove_photo"),
    path("changed/", TakesRowChanges.as_view(), name="row_changes"),
    path("stand-down/", StandDown.as_view(), name="stand_down"),
    path("correct/", Correct.as_view(), name="correct"),
    path("void/", Void.as_view(), name="void"),
    path("hold/", Hold.as_view(), name="hold"),
    path("lift-hold/", LiftHold.as_view(), name="lift_hold"),
    path("follow-up/", FollowUp.as_view(), name="follow_up"),
    path("hand-over/", SheetHandedOver.as_view(), name="hand_over_one"),
    path("notices/sent/", NoticesSent.as_view(), name="notices_sent"),
    path("notices/print/", PrintPapers.as_view(), name="print_papers"),
    path("notices/sent/<uuid:notice>/", NoticeDeed.as_view(), name="notice_deed"),
    path("notices/sent/<uuid:notice>/files/<int:place>/", FileOfNotice.as_view(), name="notice_file"),
    path("medical/", MedicalCard.as_view(), name="medical"),
    path("sheet/", CheckedSheetPage.as_view(), name="sheet"),
    path("sign/", SignPage.as_view(), name="sign"),
    path("seal/", SealPage.as_view(), name="seal"),
    path("signed/", SignedPage.as_view(), name="signed"),
    path("notices/", NoticesPage.as_view(), name="notices"),
    path("notices/prepare/", PrepareNotices.as_view(), name="prepare_notices"),
    path("customer/copy/", SendCopy.as_view(), name="send_copy"),
    path("customer/<slug:when>/<slug:language>/", CustomerPaper.as_view(), name="customer_paper"),
    path("signs/", SignsPage.as_view(), name="signs"),
    path("signs/<slug:language>/sign/<path:rule>/", Sign.as_view(), name="sign_paper"),
    path("signs/<slug:language>/places/<path:rule>/", Placement.as_view(), name="sign_places"),
    path("comparison/", ComparisonPage.as_view(), name="comparison"),
    path("versions/<int:version>/changes/", CheckedVersionChanges.as_view(), name="version_changes"),
    path("versions/<int:version>/record.json", CheckedRecordFile.as_view(), name="record_file"),
    path(
        "versions/<int:version>/record-sheet-<slug:language>.pdf", RecordSheet.as_view(), name="record_sheet"
    ),
    path("versions/<int:version>/check-sheet-<slug:language>.pdf", CheckSheet.as_view(), name="check_sheet"),
]

near_site = [
    path("", Neighbours.as_view(), name="neighbours"),
    path("new/", NeighbourPage.as_view(), name="new_neighbour"),
    path("file/", SendFile.as_view(), name="send_people"),
    path("occupants/new/", OccupantPage.as_view(), name="new_occupant"),
    path("occupants/<uuid:row>/", OccupantPage.as_view(), name="occupant"),
    path("<uuid:row>/", NeighbourPage.as_view(), name="neighbour"),
]

rules = [
    path("", Rules.as_view(), name="rules"),
    path("coverage/", Coverage.as_view(), name="coverage"),
    path("questions/", Questions.as_view(), name="questions"),
    path("questions/<path:question>/", QuestionPage.as_view(), name="question"),
    path("packs/<slug:pack>/versions/", PackVersions.as_view(), name="pack_versions"),
    path("packs/<slug:pack>/versions/<slug:digest>/", PackAsItStood.as_view(), name="pack_version"),
    path("packs/<slug:pack>/", PackPage.as_view(), name="pack"),
    path("own/", OwnRulesPage.as_view(), name="own_rules"),
    path("own/versions/<int:version>/", OwnRulesAsTheyStood.as_view(), name="own_version"),
    path("own/what-if/", WhatIfPage.as_view(), name="what_if"),
    path("own/take-into-use/", TakeIntoUse.as_view(), name="take_into_use"),
    path("own/new/<slug:kind>/", OwnRulePage.as_view(), name="new_own_rule"),
    path("own/<int:key>/", OwnRulePage.as_view(), name="own_rule"),
]

urlpatterns = [
    path("", Home.as_view(), name="home"),
    path("health/", pages.health, name="health"),
    path("favicon.ico", pages.favicon, name="favicon"),
    path("service-worker.js", kept.service_worker, name="service_worker"),
    path("manifest.webmanifest", kept.manifest, name="manifest"),
    path("no-answer/", kept.no_answer, name="no_answer"),
    path("not-kept/", kept.not_kept, name="not_kept"),
    path("to-keep/", kept.ToKeep.as_view(), name="to_keep"),
    path("choices/", CheckedChoices.as_view(), name="choices"),
    path("account/", pages.account, name="account"),
    path("account/signature/", DeclarationPage.as_view(), name="declaration"),
    path("account/devices/", Devices.as_view(), name="devices"),
    path("account/devices/<uuid:uuid>/end/", EndDevice.as_view(), name="end_device"),
    path("account/notices/", OwnWords.as_view(), name="own_words"),
    path("account/firm/", ChooseFirm.as_view(), name="choose_firm"),
    path("invitations/<uuid:uuid>/<str:token>/", AcceptInvitation.as_view(), name="invitation"),
    path("accounts/email/", pages.no_other_addresses),
    path("accounts/", include("allauth.urls")),
    path("language/", include("django.conf.urls.i18n")),
    path("admin/", admin.site.urls),
    path("api/v1/", include("project.api")),
    path("programs/", Programs.as_view(), name="programs"),
    path("programs/api/", ApiDescribed.as_view(), name="described_api"),
    path("programs/hooks/", Hooks.as_view(), name="hooks"),
    path("programs/hooks/<uuid:hook>/", OneHook.as_view(), name="hook"),
    path("programs/<uuid:uuid>/end/", EndProgram.as_view(), name="end_program"),
    path("rules/", include(rules)),
    path("way-out/", TheWayOut.as_view(), name="way_out"),
    path("way-out/<uuid:file>/", WayOutFile.as_view(), name="way_out_file"),
    path("bring-in/", BringIn.as_view(), name="bring_in"),
    path("bring-in/<uuid:file>/", Arrival.as_view(), name="arrival"),
    path("bring-in/<uuid:file>/original/", ArrivalOriginal.as_view(), name="arrival_original"),
    path("bring-in/<uuid:file>/faults.csv", ArrivalFaults.as_view(), name="arrival_faults"),
    path("incidents/", Incidents.as_view(), name="incidents"),
    path("incidents/new/", IncidentNow.as_view(), name="incident_now"),
    path("incidents/take/", TakeIncident.as_view(), name="take_incident"),
    path("incidents/<uuid:incident>/", OneIncident.as_view(), name="incident"),
    path("incidents/<uuid:incident>/facts/", IncidentFacts.as_view(), name="incident_facts"),
    path("incidents/<uuid:incident>/told/", IncidentTold.as_view(), name="incident_told"),
    path(
        "incidents/<uuid:incident>/report-<slug:language>.pdf", IncidentReport.as_view(), name="incident_report"
    ),
    path("desk/", Desk.as_view(), name="desk"),
    path("keeping/", Keeping.as_view(), name="keeping"),
    path("mix/", mix, name="mix"),
    path("notices/", WeekOfNotices.as_view(), name="week_of_notices"),
    path("notices/not-wanted/", NotWanted.as_view(), name="not_wanted"),
    path("notices/not-wanted/<uuid:row>/take-out/", WantedAgain.as_view(), name="wanted_again"),
    path("people-files/<uuid:file>/", PeopleFilePage.as_view(), name="people_file"),
    path("registers/", Registers.as_view(), name="registers"),
    path("registers/file/", SendRegister.as_view(), name="send_register"),
    path("roadside/", Roadside.as_view(), name="roadside"),
    path("sites/<uuid:site>/neighbours/", include(near_site)),
    path("stock/", include("project.urls_stock")),
    path("tanks/", Tanks.as_view(), name="tanks"),
    path("treatments/", CheckedRegister.as_view(), name="register"),
    path("treatments/register.csv", RegisterCsv.as_view(), name="register_csv"),
    path("treatments/register.xlsx", RegisterWorkbook.as_view(), name="register_xlsx"),
    path("treatments/count/", RegisterCount.as_view(), name="register_count"),
    path("treatments/pictures/", CheckedPictures.as_view(), name="register_pictures"),
    path("treatments/views/", SavedViews.as_view(), name="saved_views"),
    path("treatments/views/new/", SaveView.as_view(), name="save_view"),
    path("treatments/views/<uuid:view>/remove/", RemoveView.as_view(), name="remove_view"),
    path("treatments/plan/", ChooseSite.as_view(), name="plan_site"),
    path("treatments/plan/<uuid:site>/", PlanTreatment.as_view(), name="plan"),
    path("treatments/<uuid:uuid>/", include(treatment)),
    path("audit/", AuditPage.as_view(), name="audit"),
    path("audit/entries.csv", AuditFile.as_view(), name="audit_file"),
    path("seals/<uuid:uuid>/looked-at/", LookAtSeal.as_view(), name="look_at_seal"),
    path("alerts/<uuid:uuid>/looked-at/", LookAtAlert.as_view(), name="look_at_alert"),
    path("notice-tasks/<uuid:uuid>/done/", FinishNoticeTask.as_view(), name="notice_task_done"),
    path("log/", LogPage.as_view(), name="log"),
    path("log/new-key/", NewKey.as_view(), name="new_key"),
    path("log/look/", LookAtLog.as_view(), name="look_at_log"),
    path("log/head.json", LogHead.as_view(), name="log_head"),
    path("hand-over/", SheetsHandedOver.as_view(), name="hand_over"),
    path("reports/", include("project.urls_reports")),
    path("requests/", Requests.as_view(), name="requests"),
    path("requests/new/", NewRequest.as_view(), name="new_request"),
    path("requests/<uuid:asked>/", OneRequest.as_view(), name="request"),
    path("requests/<uuid:asked>/before/", BeforeAnswering.as_view(), name="before_answering"),
    path("requests/<uuid:asked>/change/", MendRequest.as_view(), name="mend_request"),
    path("requests/<uuid:asked>/hand-over/", AnswerRequest.as_view(), name="answer_request"),
    path(
        "requests/<uuid:asked>/form/<slug:form>/<str:language>/",
        RequestOnForm.as_view(),
        name="request_on_form",
    ),
    path("requests/<uuid:asked>/files/<uuid:handing>/", OneHanding.as_view(), name="handing"),
    path(
        "requests/<uuid:asked>/files/<uuid:handing>/look/<path:name>",
        LookAtHanding.as_view(),
        name="look_at_handing",
    ),
    path("requests/<uuid:asked>/files/<uuid:handing>/link/", LinkOfHanding.as_view(), name="handing_link"),
    path("handed/<str:token>/", HandedPage.as_view(), name="handed"),
    path("proof/<str:token>/", ProofPage.as_view(), name="proof"),
    path("proof/<str:token>/proof.json", ProofFile.as_view(), name="proof_file"),
    path("told/<str:token>/", ToldPage.as_view(), name="told"),
    path("records/<uuid:uuid>/", RedirectView.as_view(pattern_name="treatment"), name="address_on_paper"),
]
