"""One section of the crew's form: saved at every change, and by its button where no script runs."""

import uuid
from collections.abc import Sequence
from functools import partial
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.functional import cached_property

from records.document.edits import Edit
from records.document.faults import DocumentFaults
from records.forms.actions import ACTIONS, act
from records.forms.asked import as_posted
from records.forms.begun import begin_all, made_now, with_begun
from records.forms.binder import Binder
from records.forms.bound import fields_of, lists_of
from records.forms.chosen_away import ChosenAway, chosen_away
from records.forms.drawn_away import DrawnAway, drawn_away
from records.forms.in_place import is_redrawn, ticks_in_place
from records.forms.posted import Posted
from records.forms.reasons import reason_dropped
from records.forms.sections import BY_SLUG, MOVED
from records.forms.table import Section
from records.forms.taken_out import TakenOut, taken_out
from records.forms.ticks_told import StillTicked, still_ticked, tick_edits
from records.models import Treatment
from records.pages.firm_page import FirmPage
from records.pages.furnishing import furnish
from records.pages.lots_aside_said import with_lots_aside
from records.pages.refused import put_all_back, put_back, save_what_fits
from records.pages.remarks import Remarks, place_remarks
from records.pages.setting import setting_of
from records.pages.steps import Step, signature_of, step_of
from records.services.drafts import NotADraftError


class SectionPage(FirmPage):
    """A page of the form. A subclass says what `remarks` there are; here there are none."""

    permission = "records.edit_draft"
    template_name = "records/section.html"
    taken_out: Sequence[TakenOut] = ()
    away: Sequence[ChosenAway | DrawnAway] = ()
    still: Sequence[StillTicked] = ()

    def remarks(self, treatment: Treatment) -> Remarks:
        return Remarks()

    @cached_property
    def section(self) -> Section:
        try:
            return (BY_SLUG | MOVED)[self.kwargs["section"]]
        except KeyError:
            raise Http404("no such section") from None

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        if not treatment.is_open:
            return redirect("treatment", uuid=treatment.pk)
        if self.kwargs["section"] in MOVED:
            return redirect("section", uuid=treatment.pk, section=self.section.slug, permanent=True)
        return self._show(treatment, self._bound(treatment))

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        if request.POST.get("person", str(request.user.pk)) != str(request.user.pk):
            return self._refuse_another()
        treatment, posted = self.treatment(), Posted.read(request.POST)
        if not treatment.is_open:
            return self._refuse(treatment)
        action = next((name for name in ACTIONS if name in request.POST), None)
        before, edits = self._meant(treatment, posted, action)
        document = treatment.document
        try:
            outcome, refused = save_what_fits(treatment, edits, request.user, list(fields_of(before)))
        except NotADraftError:
            return self._refuse(treatment)
        except DocumentFaults as error:
            put_all_back(list(fields_of(before)), posted)
            return self._show(treatment, before, faults=[each.say(self.language) for each in error.faults])
        blocks = self._bound(treatment)
        self.taken_out = taken_out(document, outcome.applied, before)
        self.away = [each.unless_in(outcome.conflicts) for each in self.away]
        self.still = still_ticked(posted, blocks)
        put_back(list(fields_of(blocks)), posted, refused, self.language)
        if action not in ("keep-mine", "keep-both", "keep-theirs"):
            posted.ask_about(blocks, outcome.conflicts)
        if request.htmx and not action:
            return self._answer_in_place(treatment, posted, blocks)
        return self._answer_with_page(treatment, blocks, action)

    def _meant(
        self, treatment: Treatment, posted: Posted, action: str | None
    ) -> tuple[list[Any], list[Edit]]:
        """The page as it was meant by who posted it, and the edits that come of it."""
        setting = setting_of(treatment, self.membership)
        begun, bound = begin_all(posted, treatment.document, partial(self._bound, treatment))
        by_device = tuple(begun)
        self.away = [*chosen_away(posted, bound, setting), *drawn_away(posted, bound, setting)]
        begun += [edit for each in self.away for edit in each.edits]
        before = self._bound(treatment, with_begun(treatment.document, begun))
        edits = [*begun, *posted.edits(before), *tick_edits(posted, before, treatment.revision)]
        edits = made_now(edits, by_device, treatment.document, treatment.revision)
        edits += reason_dropped(posted, edits, treatment.document)
        if action:
            edits = act(action, posted, before, edits, setting)
        return before, edits

    def _refuse_another(self) -> HttpResponse:
        """Somebody else has signed in on the device since: what was typed is not theirs, and waits."""
        if not self.request.htmx:
            raise PermissionDenied("typed by somebody else")
        return HttpResponse(status=401)

    def _refuse(self, treatment: Treatment) -> HttpResponse:
        """The treatment was signed meanwhile; a script is told so that it keeps what was typed."""
        return HttpResponse(status=409) if self.request.htmx else redirect("treatment", uuid=treatment.pk)

    def _bound(self, treatment: Treatment, document: dict[str, Any] | None = None) -> list[Any]:
        correcting = treatment.state == Treatment.State.CORRECTING
        begun = setting_of(treatment, self.membership)
        ticks = {"at": begun["now"]} | ({"by": begun["person"]} if begun["person"] else {})
        binder = Binder(document or treatment.document, treatment.unread, self.language, correcting, ticks)
        posted = (name.removeprefix("was:") for name in self.request.POST if name.startswith("was:"))
        return binder.section(as_posted(self.section, posted))

    def _answer_in_place(self, treatment: Treatment, posted: Posted, blocks: list[Any]) -> HttpResponse:
        """Only what is said beside the fields, and the fields that somebody else has changed."""
        remarks = self._placed(treatment, blocks)
        fields = [field for field in fields_of(blocks) if posted.typed(field) is not None]
        changed = [field for field in fields if not field.conflict and is_redrawn(posted, field)]
        kept = [field for field in fields if field not in changed]
        for field in kept:
            field.typed = posted.typed(field) or ()
        context = {"changed": changed, "kept": kept, "lists": list(lists_of(blocks)), "treatment": treatment}
        context |= {"taken_out": self.taken_out, "away": self.away, "still": self.still}
        context |= {"ticks": ticks_in_place(posted, blocks), "section": self.section}
        context["refused"] = any(field.kept is not None for field in fields)
        return render(self.request, "records/form/saved.html", context | remarks)

    def _answer_with_page(self, treatment: Treatment, blocks: list[Any], action: str | None) -> HttpResponse:
        fields = list(fields_of(blocks))
        wrong = [field for field in fields if field.sentence or field.conflict]
        if action == "stand-down" and not wrong:
            return self._go_to_signature(treatment)
        if (
            self.request.htmx
            or action in ("calculate", "draw")
            or self.taken_out
            or self.still
            or (wrong and not action)
            or any(field.conflict or field.kept is not None for field in fields)
        ):
            said = [field for field in wrong if not action or field.kept is not None]
            return self._show(treatment, blocks, said)
        here = reverse("section", kwargs={"uuid": treatment.pk, "section": self.section.slug})
        if action:
            return HttpResponseRedirect(f"{here}#section")
        following = self._step(treatment).following
        return redirect(following.address)

    def _go_to_signature(self, treatment: Treatment) -> HttpResponse:
        address = signature_of(treatment, self.may("records.sign_treatment")).address
        return HttpResponse(headers={"HX-Redirect": address}) if self.request.htmx else redirect(address)

    def _placed(self, treatment: Treatment, blocks: list[Any]) -> dict[str, Any]:
        remarks = with_lots_aside(self.remarks(treatment), treatment)
        homeless = place_remarks(blocks, remarks.remarks, self.section)
        own, others = remarks.limits_of(self.section)
        return {"limits": own, "other_limits": others, "homeless": homeless}

    def _step(self, treatment: Treatment) -> Step:
        return step_of(self.section, treatment, self.may("records.sign_treatment"))

    def _show(
        self,
        treatment: Treatment,
        blocks: list[Any],
        wrong: list[Any] | None = None,
        faults: list[str] | None = None,
    ) -> HttpResponse:
        data = self.request.POST if self.request.method == "POST" else None
        furnish(blocks, setting_of(treatment, self.membership), data)
        return self.page(
            status=422 if faults else 200,
            faults=faults or [],
            treatment=treatment,
            section=self.section,
            step=self._step(treatment),
            blocks=blocks,
            wrong=wrong or [],
            form_id=uuid.uuid4(),
            taken_out=self.taken_out,
            away=self.away,
            still=self.still,
            **self._placed(treatment, blocks),
        )
