"""Check your answers, answer what is open, sign and lock the record."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext_lazy as _

from compliance.pages.answers import answered
from compliance.pages.findings import grouped, not_checked
from compliance.pages.open_findings import fault_of_box, named_in, opened
from compliance.pages.phone_sheet import JUDGE, KNOWS
from compliance.pages.sign_faults import ABOUT_REASONS, REFUSALS, Fault, fault_of
from compliance.services.passkey import asked_of
from compliance.services.signing import LONGEST_REASON, prepare, sign_treatment, sign_with_passkey
from records.document.canonical import as_json
from records.forms.binder import Binder
from records.forms.posted import revision_in
from records.models import SignedRecord, Treatment
from records.pages.declaring import UNDECLARED, Declaring
from records.pages.firm_page import FirmPage
from records.pages.lots_aside_said import lots_aside_of, note_used
from records.pages.row_changes import row_changes
from records.pages.steps import step_of_signature
from records.pages.unread import unread_entries
from records.selectors import signed_record_of
from records.services.drafts import NotADraftError
from records.services.keys import SigningKeyError
from records.services.to_sign import Signer

SIGNS_HERE = (
    "records/canonical.js",
    "records/placing.js",
    "records/phone_document.js",
    "records/mending.js",
    *JUDGE,
    *KNOWS,
    "records/device_wrap.js",
    "records/device_key.js",
    "records/reasons_before.js",
    "records/answers_here.js",
    "records/sealing.js",
)
"""The scripts by which a device signs where there is no connection."""
WAS_IT_USED = _("A lot that is set aside is named: say that it was really used, or change the mix.")
SIGNED_MEANWHILE = _("Somebody else has signed this treatment meanwhile. Nothing more was signed.")


class SignPage(Declaring):
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
        seen = {"revision": -1 if revision is None else revision, "shown": request.POST.get("shown", "")}
        credential = request.POST.get("credential", "")
        if not self.accepted():
            return self._show(treatment, answers, [Fault(UNDECLARED, "declares")])
        aside = lots_aside_of(treatment)
        if aside and not request.POST.get("used-aside"):
            return self._show(treatment, answers, [Fault(WAS_IT_USED, "used-aside")])
        try:
            if credential:
                sign_with_passkey(treatment, request.user, credential, answers, **seen)
            else:
                sign_treatment(treatment, request.user, request.POST.get("password", ""), answers, **seen)
        except NotADraftError:
            messages.error(request, SIGNED_MEANWHILE)
            return redirect("treatment", uuid=treatment.pk)
        except ABOUT_REASONS:
            return self._show(treatment, answers, [], judged=True)
        except REFUSALS as error:
            fault = fault_of(error, treatment, request.POST.get("password", ""))
            status = 503 if isinstance(error, SigningKeyError) else 422
            return self._show(treatment, answers, [fault], status=status)
        note_used(treatment, aside, request.user)
        self.keep_declaration()
        return redirect("signed", uuid=treatment.pk)

    def page(self, status: int = 200, **context: Any) -> HttpResponse:
        signing = {"scripts": SIGNS_HERE, "passkey": asked_of(self.request.user)}
        signing["lots_aside"] = lots_aside_of(context["treatment"])
        return super().page(status, **signing, said_used="used-aside" in self.request.POST, **context)

    def _answers(self) -> list[dict[str, Any]]:
        """`{rule, about, reason}` for each finding that a box on the page answers."""
        return [
            {"rule": rule, "about": about, "reason": self.request.POST.get(f"reason-{number}", "")}
            for number, key in enumerate(self.request.POST.getlist("finding"))
            for rule, about in named_in(key)
        ]

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
        boxes = opened(prepared.open_findings, answers, self.language, judged)
        faults = [*faults, *(fault_of_box(each) for each in boxes if each.fault)]
        binder = Binder(as_json(prepared.document), treatment.unread, self.language)
        return self.page(
            status=status if faults else 200,
            treatment=treatment,
            step=step_of_signature(treatment),
            shown=prepared.shown,
            row_changes=row_changes(treatment, self.language),
            sections=answered(binder),
            groups=grouped(check, self.language, without_open=True),
            not_checked=not_checked(check, self.language),
            **{part: check[part] for part in ("questions", "packs")},
            unread=unread_entries(binder),
            opened=boxes,
            to_accept=self.words_to_accept(),
            faults=faults,
            first_to_mend=next((each.key for each in boxes if each.fault), ""),
            longest=LONGEST_REASON,
        )


class SignedPage(FirmPage):
    """What was signed, where it is, and what comes next."""

    template_name = "compliance/signed.html"

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        record: SignedRecord = signed_record_of(self.firm, kwargs["uuid"])
        return self.page(
            record=record, treatment=record.treatment, may_send=self.may("records.send_notices")
        )
