"""Prepare the notices of a treatment, look at each, and send them."""

from collections import Counter
from collections.abc import Iterable
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import cached_property
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from compliance.pages.means_counted import said_count
from compliance.pages.notice_words import Said
from compliance.pages.telling_forms import PersonForm, VisitForm
from compliance.pages.where_entered import where_entered
from compliance.papers.notice import NoticeContent, door_cards, letters
from compliance.services.enclosures import PDF
from compliance.services.telling import Choice, Round
from compliance.services.to_tell import ToTell
from compliance.services.unsaid import to_be_typed, unsaid
from compliance.services.visit_said import keep, keep_looked_at, offered
from records.document.words import WORD_LISTS
from records.models import AuditEntry, Membership, Treatment
from records.outbox.queueing import queue
from records.pages.firm_page import FirmPage
from records.pages.seen import note_taken
from shared import clock
from shared.times import local_day

DRAWN = {"letter": letters, "door": door_cards, "in-person": door_cards}


class PrepareNotices(FirmPage):
    """Who is told how; then every notice as it will be read; then they go out. Before, nothing is
    kept but what was typed of the visit."""

    permission = "records.send_notices"
    template_name = "compliance/prepare_notices.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        return self._show(None)

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        forms = self._forms(request.POST)
        self._say_who_is_left_out(forms)
        if self._done_already(forms):
            return redirect("notices_sent", uuid=self.round.treatment.pk)
        chosen = self._chosen(forms)
        if chosen is None:
            return self._show(request.POST)
        act = request.POST.get("do", "")
        if act in DRAWN:
            return self._paper(act, chosen)
        if act == "send":
            keep(self.round, self.visit.visit)
            queue(self.round.treatment, self.round.pieces(chosen, self.visit.visit), request.user)
            return redirect("notices_sent", uuid=self.round.treatment.pk)
        keep_looked_at(self.round, self.visit.visit)
        return self._look(chosen)

    @cached_property
    def round(self) -> Round:
        """Raises Http404 for a treatment that is no plan any more."""
        treatment = self.treatment()
        if treatment.state != Treatment.State.DRAFT and not treatment.is_off:
            raise Http404
        return Round(treatment)

    @cached_property
    def visit(self) -> VisitForm:
        treatment = self.round.treatment
        zone = treatment.site.time_zone or self.firm.time_zone
        return VisitForm(
            self.request.POST or None,
            self.round.planned_at,
            zone,
            needed=self.round.dates_needed,
            possible=self.round.dates_possible,
            today=local_day(clock.now(), zone),
            lines=to_be_typed(self.round, self.language),
            offered=offered(self.round),
            is_off=treatment.is_off,
        )

    def _forms(self, data: Any) -> list[PersonForm]:
        """A crew is not shown who is on a register: the office tells them."""
        is_crew = self.membership.role == Membership.Role.CREW
        shown = [one for one in self.round.people if not (is_crew and one.contact.to == "registered-person")]
        treatment, user = self.round.treatment, self.request.user
        where = {one.key: where_entered(one.contact, treatment, user) for one in shown if not one.ways}
        return [PersonForm(data, one, self.language, where.get(one.key, "")) for one in shown]

    @property
    def _ticked(self) -> set[str]:
        return {name for name in self.request.POST if name.endswith("-tell")}

    def _done_already(self, forms: list[PersonForm]) -> bool:
        """Whether all that were ticked have been told meanwhile, as by a second press."""
        return bool(self._ticked) and self._ticked.isdisjoint(form.add_prefix("tell") for form in forms)

    def _say_who_is_left_out(self, forms: list[PersonForm]) -> None:
        if count := len(self._ticked.difference(form.add_prefix("tell") for form in forms)):
            words = ngettext(
                "%(n)d person whom you ticked has been told meanwhile, or the plan has changed: "
                "nothing more goes to them. To tell them once more, prepare the notices anew and tick them.",
                "%(n)d people whom you ticked have been told meanwhile, or the plan has changed: "
                "nothing more goes to them. To tell them once more, prepare the notices anew and tick them.",
                count,
            )
            messages.warning(self.request, words % {"n": count})

    def _chosen(self, forms: list[PersonForm]) -> dict[str, Choice] | None:
        valid = [self.visit.is_valid(), *(form.is_valid() for form in forms)]
        if not all(valid):
            return None
        choices = {form.person.key: form.choice for form in forms}
        chosen = {key: choice for key, choice in choices.items() if choice}
        if not chosen:
            self.visit.add_error(None, _("Tick at least one person."))
            return None
        self.visit.left_blank(unsaid(self.round, chosen, self.visit.visit))
        return None if self.visit.errors else chosen

    def _show(self, data: Any) -> HttpResponse:
        if self.round.plan.start is None:
            return self.page(treatment=self.round.treatment, no_time=True)
        forms = self._forms(data)
        treatment = self.round.treatment
        said = Said(self.round.plan, treatment.site.time_zone or self.firm.time_zone, self.language)
        changed = [form for form in forms if form.person.word]
        asked = [form for form in forms if form.person.telling.asks and form not in changed]
        others = [form for form in forms if form not in changed and form not in asked]
        off = treatment.is_off
        return self.page(
            status=422 if data else 200,
            treatment=treatment,
            answer="" if treatment.is_off else said.answer(clock.now()),
            visit=self.visit,
            groups=[
                (_("Told of a visit that is off") if off else _("Told of something else"), changed),
                (_("Whom a rule names"), asked),
                (_("Others, whom no rule names"), others),
            ],
            start=said.when(self.round.plan.start),
            zone=self.round.zone,
        )

    def _look(self, chosen: dict[str, Choice]) -> HttpResponse:
        pieces = list(self.round.pieces(chosen, self.visit.visit))
        contents = [(person, content) for person, _choice, content in self._contents(chosen)]
        words = WORD_LISTS["means"]
        self.template_name = "compliance/look_at_notices.html"
        return self.page(
            treatment=self.round.treatment,
            zone=self.round.zone,
            notices=[
                {
                    "piece": piece,
                    "on_paper": piece.means in DRAWN,
                    "means": words[piece.means].say(self.language),
                    "quotes": [line.label for line in content.quotes],
                    "open": [line.label for line in content.open_lines],
                    "told": [(words[one.means].say(self.language), one) for one in person.in_hand],
                    "instead": any(one.digest != piece.digest for one in person.waiting),
                }
                for piece, (person, content) in zip(pieces, contents, strict=True)
            ],
            posted=[pair for pair in self.request.POST.items() if pair[0] not in ("csrfmiddlewaretoken", "do")],
            what=said_count([piece.means for piece in pieces]),
            papers=Counter(piece.means.replace("-", "_") for piece in pieces if piece.means in DRAWN),
        )

    def _paper(self, means: str, chosen: dict[str, Choice]) -> HttpResponse:
        contents = [content for _person, choice, content in self._contents(chosen) if choice.means == means]
        if not contents:
            raise Http404
        note_taken(self.request, self.firm, self.round.treatment, AuditEntry.Kind.PRINTED)
        drawn = DRAWN[means](contents, self.firm.paper)
        return HttpResponse(drawn, content_type=PDF, headers={"Content-Disposition": "inline"})

    def _contents(self, chosen: dict[str, Choice]) -> Iterable[tuple[ToTell, Choice, NoticeContent]]:
        return self.round.contents(chosen, self.visit.visit)
