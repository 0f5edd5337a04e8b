"""The bundle that answers a request: what goes in is chosen, the worker makes it, and somebody takes it out."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.db.models import QuerySet
from django.http import FileResponse, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.models import Handing, RecordsRequest
from compliance.pages.link_form import LinkForm
from compliance.pages.papers import SheetsHandedOver
from compliance.pages.request_forms import AnswerForm, NothingForm
from compliance.pages.sent_twice import key_of, new_key
from compliance.request_bundle.folder import file_of
from compliance.request_bundle.inside import forms_in
from compliance.request_bundle.letting_go import let_go
from compliance.request_bundle.still_said import still_said
from compliance.services import request_matches
from compliance.services.handings import (
    EmptyLogError,
    FitsByNowError,
    NotNowError,
    begin,
    drop,
    take_out,
    try_again,
)
from records.bundle.photos import PLACE
from records.document.member_labels import member_label
from records.models import Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.handing_over import left_out

State = Handing.State
STAYS_APART = ["people", "notices"]
"""Left out at first of what goes to somebody who is no authority: who worked, and who else was told."""
_AROUND = {
    "signatures": gettext_lazy("Signatures"),
    "answers": gettext_lazy("Reasons that were given"),
    "record": gettext_lazy("Head of the record"),
    "follow_ups": gettext_lazy("Follow-ups"),
}
LAW = (RecordsRequest.Asker.REGULATOR, RecordsRequest.Asker.COURT)


class AnswerRequest(SheetsHandedOver):
    """Choose what goes into the bundle that answers a request; it has no bound, since the worker makes it."""

    template_name = "compliance/answer_request.html"

    @cached_property
    def asked(self) -> RecordsRequest:
        rows = RecordsRequest.objects.for_firm(self.firm).filter(closed_at=None).select_related("firm")
        return get_object_or_404(rows, pk=self.kwargs["asked"])

    @cached_property
    def fits(self) -> bool:
        return self.found().exists()

    def form_class(self, *args: Any, **kwargs: Any) -> AnswerForm:  # type: ignore[override]
        if not self.fits:
            return NothingForm(*args, **kwargs)
        return AnswerForm(*args, with_findings=self.asked.asked_by in LAW, **kwargs)

    def found(self) -> QuerySet[Treatment]:
        return request_matches.signed_matches(self.asked)

    def unknown_words(self) -> set[str]:
        return set()

    def bounds(self) -> dict[str, int]:
        return {}

    def initial(self) -> dict[str, Any]:
        withheld = ["notices"] if self.asked.asked_by in LAW else STAYS_APART
        return {"to": self.asked.name, "withheld": withheld, "sheets": ["en"], "language": "en"}

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        form, treatments = self.form_class(request.POST), self._ordered()
        if not form.is_valid():
            return self._show(form, len(treatments), status=422)
        said = form.cleaned_data
        wanted = {name: said[name] for name in ("to", "how", "language", "withheld")}
        wanted |= {"uuid": key_of(request, self.firm), "sheets": said.get("sheets", [])}
        wanted |= {name: bool(said.get(name)) for name in ("photos", "findings")}
        try:
            handing = begin(self.asked, request.user, treatments, **wanted)
        except EmptyLogError:
            form.add_error(None, _("Nothing was ever signed here, so there is no log to search."))
        except FitsByNowError:
            form.add_error(None, _("Something that fits was signed meanwhile. Open this page anew."))
        else:
            return self._begun(handing, is_new=handing.pk == wanted["uuid"])
        return self._show(form, len(treatments), status=422)

    def _begun(self, handing: Handing, *, is_new: bool) -> HttpResponse:
        if not is_new:
            messages.success(
                self.request,
                _(
                    "You asked for the very same a moment ago, so this is that file and no second one was "
                    "begun. If you want another, change something or ask ten minutes after it was made."
                ),
            )
        return redirect("handing", asked=self.asked.pk, handing=handing.pk)

    def _ordered(self) -> list[UUID]:
        return list(self.found().order_by("number").values_list("pk", flat=True))

    def about(self) -> dict[str, Any]:
        back = reverse("request", kwargs={"asked": self.asked.pk})
        return {"asked": self.asked, "back": back, "key": new_key(self.request), "nothing": not self.fits}


class OneHanding(FirmPage):
    """How far a bundle is; once it is made, it is taken out here."""

    permission = "records.hand_over"
    template_name = "compliance/handing.html"

    @cached_property
    def handing(self) -> Handing:
        rows = Handing.objects.for_firm(self.firm).filter(request=self.kwargs["asked"])
        return get_object_or_404(rows.select_related("firm", "request", "by"), pk=self.kwargs["handing"])

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.handing)
        if self.handing.state == State.READY and not file_of(self.handing).exists():
            let_go(self.handing)  # a backup that was put back holds no bundles
            del self.handing
        handing = self.handing
        return self.page(
            handing=handing,
            asked=handing.request,
            count=len(handing.treatments),
            withheld=[_in_words(each, self.language) for each in handing.withheld],
            no_photos=bool(PLACE & left_out(handing.withheld)),
            still=[(_in_words(each.part, self.language), each) for each in still_said(handing)],
            answer=(answer := handing.answers.select_related("by").first()),
            links=(links := list(handing.links.select_related("made_by", "handing"))),
            by_link=bool(answer and any(each.used_at == answer.at for each in links)),
            live_link=any(not each.is_over for each in links),
            link_form=LinkForm(),
            forms=forms_in(handing, self.language),
        )

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        try:
            if "take" in request.POST:
                return self._file(request)
            if "again" in request.POST:
                try_again(self.handing, request.user)
            elif "drop" in request.POST:
                drop(self.handing, request.user)
                messages.success(request, _("The file is gone. What was handed over stays on record."))
                return redirect("request", asked=self.handing.request_id)
        except (NotNowError, FileNotFoundError):
            pass  # somebody else did something with it; the page shows what
        return redirect(request.path)

    def _file(self, request: HttpRequest) -> FileResponse:
        """Opened first: a file that is not there is handed over to nobody."""
        file = file_of(self.handing).open("rb")
        take_out(self.handing, request.user)
        name = f"request-{self.handing.request.received_at:%Y-%m-%d}-{str(self.handing.pk)[:8]}.zip"
        return FileResponse(file, as_attachment=True, filename=name, content_type="application/zip")


def _in_words(part: str, language: str) -> str:
    """A section, or a part of what was signed around them, as a person says it."""
    if part in _AROUND:
        return str(_AROUND[part])
    return member_label(part, language)
