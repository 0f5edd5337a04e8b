"""Check your answers, answer what is open, sign and lock the record."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from compliance.pages.findings import grouped, measured, not_checked
from compliance.pages.remarks import remark_of
from compliance.pages.sign_faults import ABOUT_REASONS, REFUSALS, Fault, fault_of, fault_of_reason
from compliance.services.signing import LONGEST_REASON, Prepared, prepare, sign_treatment
from records.document.canonical import as_json
from records.forms.binder import Binder
from records.forms.posted import revision_in
from records.forms.sections import SECTIONS
from records.models import SignedRecord, Treatment
from records.pages.firm_page import FirmPage
from records.pages.remarks import Remark
from records.pages.row_changes import row_changes
from records.pages.unread import unread_entries
from records.selectors import signed_record_of
from records.services.drafts import NotADraftError
from records.services.keys import SigningKeyError
from records.services.to_sign import Signer

SIGNED_MEANWHILE = _("Somebody else has signed this treatment meanwhile. Nothing more was signed.")


@dataclass(frozen=True)
class Open:
    """One required finding that wants a reason. `key` names it in the form."""

    number: int
    key: str
    remark: Remark
    observed: str
    bound: str
    reason: str
    fault: str | Promise


class SignPage(FirmPage):
    permission = "records.sign_treatment"
    template_name = "compliance/sign.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        if not treatment.is_open:
            return redirect("treatment", uuid=treatment.pk)
        return self._show(treatment, {}, [])

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment, answers = self.treatment(), self._answers()
        revision = revision_in(request.POST.get("revision", ""))
        try:
            sign_treatment(
                treatment,
                request.user,
                request.POST.get("password", ""),
                answers,
                revision=-1 if revision is None else revision,
                shown=request.POST.get("shown", ""),
            )
        except NotADraftError:
            messages.error(request, SIGNED_MEANWHILE)
            return redirect("treatment", uuid=treatment.pk)
        except ABOUT_REASONS:
            return self._show(treatment, answers, [], judged=True)
        except REFUSALS as error:
            fault = fault_of(error, treatment, request.POST.get("password", ""))
            status = 503 if isinstance(error, SigningKeyError) else 422
            return self._show(treatment, answers, [fault], status=status)
        return redirect("signed", uuid=treatment.pk)

    def _answers(self) -> list[dict[str, Any]]:
        """`{rule, about, reason}` for each box on the page."""
        answers = []
        for number, key in enumerate(self.request.POST.getlist("finding")):
            rule, about = _read_key(key)
            answers.append(
                {"rule": rule, "about": about, "reason": self.request.POST.get(f"reason-{number}", "")}
            )
        return answers

    def _show(
        self,
        treatment: Treatment,
        answers: Sequence[Mapping[str, Any]],
        faults: list[Fault],
        judged: bool = False,
        status: int = 422,
    ) -> HttpResponse:
        prepared = prepare(treatment, Signer(self.request.user))
        check = prepared.examined.stored
        opened = self._open(prepared, answers, judged)
        faults = [*faults, *(Fault(each.fault, f"reason-{each.number}") for each in opened if each.fault)]
        binder = Binder(as_json(prepared.document), treatment.unread, self.language)
        return self.page(
            status=status if faults else 200,
            treatment=treatment,
            shown=prepared.shown,
            row_changes=row_changes(treatment, self.language),
            sections=[(section, binder.section(section)) for section in SECTIONS],
            groups=grouped(check, self.language, without_open=True),
            not_checked=not_checked(check, self.language),
            questions=check["questions"],
            packs=check["packs"],
            unread=unread_entries(binder),
            opened=opened,
            faults=faults,
            first_to_mend=next((each.key for each in opened if each.fault), ""),
            longest=LONGEST_REASON,
        )

    def _open(self, prepared: Prepared, answers: Sequence[Mapping[str, Any]], judged: bool) -> list[Open]:
        reasons = {_key(answer): str(answer["reason"]) for answer in answers}
        opened = []
        for number, finding in enumerate(prepared.open_findings):
            key, shown = _key(finding), measured(finding, self.language)
            reason = reasons.get(key, "")
            fault = fault_of_reason(reason) if judged else ""
            remark = remark_of(finding, self.language)
            opened.append(Open(number, key, remark, shown["observed"], shown["bound"], reason, fault))
        return opened


class SignedPage(FirmPage):
    """What was signed, where it is, and what comes next."""

    template_name = "compliance/signed.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        record: SignedRecord = signed_record_of(self.firm, kwargs["uuid"])
        return self.page(record=record, treatment=record.treatment)


def _key(of: Mapping[str, Any]) -> str:
    return json.dumps([of["rule"], list(of["about"])])


def _read_key(key: str) -> tuple[str, list[str]]:
    try:
        rule, about = json.loads(key)
        return str(rule), [str(path) for path in about]
    except (TypeError, ValueError, RecursionError):
        return "", []
