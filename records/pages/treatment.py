"""A treatment's own page: a task list while it is a draft, the record once it is signed."""

from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.shortcuts import render

from records.forms.binder import Binder
from records.forms.come_back import is_unfinished
from records.forms.sections import SECTIONS
from records.forms.table import Section
from records.models import ArrivedRow, AuditEntry, LegalHold, Treatment
from records.pages.firm_page import FirmPage
from records.pages.lots_aside_said import lots_aside_of, with_lots_aside
from records.pages.remarks import Remarks, said_once
from records.pages.row_changes import row_changes
from records.pages.seals_shown import shown_seals
from records.pages.seen import note_taken
from records.pages.unread import unread_entries
from records.record_files import record_file
from records.seals import seals_of
from records.selectors import follow_ups_of, signed_record_of, signed_versions


@dataclass(frozen=True)
class Task:
    """One section with what is open in it."""

    section: Section
    not_met: int
    to_do: int

    @property
    def status(self) -> str:
        if self.not_met:
            return "not_met"
        return "to_do" if self.to_do else "clear"


class TreatmentPage(FirmPage):
    """A subclass says what `remarks` there are on a draft, and adds to what stands on it or on a record."""

    draft_template = "records/treatment_draft.html"
    signed_template = "records/treatment_signed.html"
    brought_in_template = "records/treatment_brought_in.html"

    def remarks(self, treatment: Treatment) -> Remarks:
        return Remarks()

    def on_draft(self, treatment: Treatment) -> dict[str, Any]:
        """What a subclass adds to the page of a draft."""
        return {}

    def on_signed(self, treatment: Treatment) -> dict[str, Any]:
        """What a subclass adds to the page of a signed record."""
        return {}

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        zone = treatment.site.time_zone or self.firm.time_zone
        shared = {
            "membership": self.membership,
            "treatment": treatment,
            "seals": shown_seals(
                seals_of(treatment), self.language, compares=self.may("records.view_draft")
            ),
            "zone": zone,
            "document": {"site": {"time_zone": zone}, **treatment.document},
            "may_edit": self.may("records.edit_draft"),
            "comes_back": self.may("records.plan_treatment") and is_unfinished(treatment.document),
            "may_sign": self.may("records.sign_treatment"),
            "may_correct": self.may("records.correct_treatment"),
            "may_void": self.may("records.void_treatment"),
            "may_look": self.may("records.look_at_seals"),
            "may_hand_over": self.may("records.hand_over"),
            "may_audit": self.may("records.view_audit"),
            "sees_looks": self.may("records.view_draft"),
        }
        if treatment.is_open and self.may("records.view_draft"):
            return render(request, self.draft_template, shared | self._draft(treatment))
        if treatment.is_brought_in:
            return render(request, self.brought_in_template, shared | self._brought_in(treatment))
        shared["not_taken"] = [shown for shown in shared["seals"] if not shown.seal.record]
        shared["seals"] = [shown for shown in shared["seals"] if shown.seal.record]
        return render(request, self.signed_template, shared | self._signed(treatment))

    def _draft(self, treatment: Treatment) -> dict[str, Any]:
        remarks = with_lots_aside(self.remarks(treatment), treatment)
        tasks = [self._task(section, remarks) for section in SECTIONS]
        binder = Binder(treatment.document, treatment.unread, self.language)
        return {
            "tasks": tasks,
            "limits": remarks.limits,
            "lots_aside": lots_aside_of(treatment),
            "unread": unread_entries(binder),
            "row_changes": row_changes(treatment, self.language),
            **self.on_draft(treatment),
        }

    def _task(self, section: Section, remarks: Remarks) -> Task:
        """What is required and open, and what is still to do, advised or not."""
        own = said_once(remarks.of_section(section))
        not_met = sum(remark.state == "not_met" and not remark.advised for remark in own)
        cant_tell = sum(remark.state == "cant_tell" and not remark.advised for remark in own)
        return Task(section, not_met, cant_tell + sum(remark.state == "to_do" for remark in own))

    def _signed(self, treatment: Treatment) -> dict[str, Any]:
        versions = list(signed_versions(treatment).select_related("by", "proof_address"))
        if not versions:
            raise Http404("it says to be signed, and nothing of it is: the look at the log names it")
        return {
            "versions": versions,
            "newest": versions[0],
            **self._keeping(treatment),
            "follow_ups": follow_ups_of(treatment).select_related("by"),
            **self.on_signed(treatment),
        }


    def _brought_in(self, treatment: Treatment) -> dict[str, Any]:
        rows = ArrivedRow.objects.for_firm(self.firm).filter(treatment=treatment.pk)
        origin = rows.select_related("file__taken_by").defer("file__content", "file__preview").first()
        return {"origin": origin, "may_bring_in": self.may("records.bring_in")}

    def _keeping(self, treatment: Treatment) -> dict[str, Any]:
        if not self.may("records.hold_treatment"):
            return {}
        holds = LegalHold.objects.for_firm(self.firm).filter(treatment=treatment)
        rows = list(holds.select_related("by", "lifted__by"))
        return {"legal_holds": rows, "held": any(not hasattr(row, "lifted") for row in rows), "may_hold": True}


class RecordFile(FirmPage):
    """The record as it may be handed over: the signed record with its sections and salts."""

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponseBase:
        record = signed_record_of(self.firm, kwargs["uuid"], kwargs["version"])
        note_taken(request, self.firm, record, AuditEntry.Kind.EXPORTED)
        file = record_file(record, self.check(record))
        name = f"{record.treatment.number}-{record.version}.json"
        answer = JsonResponse(file, json_dumps_params={"ensure_ascii": False, "indent": 1})
        answer["Content-Disposition"] = f'attachment; filename="{name}"'
        return answer

    def check(self, record: Any) -> dict[str, Any] | None:
        """The stored check that belongs to the record; here none is known."""
        return None
