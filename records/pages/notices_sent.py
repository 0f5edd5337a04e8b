"""What has become of a treatment's notices: each with its state, what was tried, and what may be done now."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from urllib.parse import quote
from uuid import UUID
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.dateparse import parse_datetime
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from records.document.words import label
from records.models import AuditEntry, Membership, Notice, NoticeTask, Treatment
from records.outbox.by_hand import BUTTONS, Deed, NotNowError, deeds_for, do, finish_task, kind_of, photo_of
from records.outbox.printing import PDF, on_paper, print_papers
from records.pages.firm_page import FirmPage
from records.pages.seen import note_taken
from records.photo_faults import PhotoError
from records.services.drafts import NotADraftError

ON_A_PAGE = 100
NOT_NOW = _("That can't be done with this notice now. See what it is by now.")
NOTHING_WAITS = _("No paper waits to be printed.")
SIGNED = _("The record is signed already, so the photo was not added to it.")


@dataclass(frozen=True)
class Shown:
    """A notice as this member sees it: crews are not shown the names of registered persons."""

    notice: Notice
    name: str
    to: str
    means: str
    buttons: list[tuple[str, str | Promise]]


class NoticesPage(FirmPage):
    permission = "records.send_notices"

    def notice(self, treatment: Treatment) -> Notice:
        rows = Notice.objects.for_firm(self.firm).filter(treatment=treatment, pk=self.kwargs["notice"])
        found = rows.select_related("firm", "site", "erasure").first()
        if found is None:
            raise Http404("no such notice")
        return found


class NoticesSent(NoticesPage):
    template_name = "records/notices_sent.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        rows = Notice.objects.for_firm(self.firm).filter(treatment=treatment).select_related("erasure")
        counted = dict(rows.order_by().values_list("state").annotate(n=Count("pk")))
        pages = Paginator(rows.prefetch_related("attempts__by", "files", "tasks"), ON_A_PAGE)
        shown = pages.get_page(request.GET.get("page"))
        return self.page(
            treatment=treatment,
            zone=treatment.site.time_zone or self.firm.time_zone,
            progress=[(state.label, counted[state]) for state in Notice.State if state in counted],
            pages=shown,
            notices=[self._shown(each) for each in shown],
            waiting=on_paper(treatment).count(),
            printed=on_paper(treatment, Notice.State.PRINTED).count(),
        )

    def _shown(self, notice: Notice) -> Shown:
        hidden = notice.to == "registered-person" and self.membership.role == Membership.Role.CREW
        return Shown(
            notice=notice,
            name="" if hidden else notice.name,
            to=label("recipient", notice.to, self.language),
            means=label("means", notice.means, self.language),
            buttons=[(kind.value, BUTTONS[kind]) for kind in deeds_for(notice)],
        )


class PrintPapers(FirmPage):
    """The buttons that print all letters and door cards at once: those that wait, or the printed ones again."""

    permission = "records.send_notices"

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        state = Notice.State.PRINTED if request.POST.get("again") else Notice.State.READY
        if not (papers := print_papers(treatment, state, request.user)):
            messages.error(request, NOTHING_WAITS)
            return redirect("notices_sent", uuid=treatment.pk)
        return HttpResponse(papers, content_type=PDF, headers={"Content-Disposition": "inline"})


class NoticeDeed(NoticesPage):
    """Where the buttons beside a notice lead."""

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        notice = self.notice(treatment)
        words = request.POST.get("words", "").replace("\0", "")
        try:
            deed = Deed(request.POST.get("deed", ""), words, at=self._at(notice))
            kind_of(notice, deed)
            photo = photo_of(treatment, request.FILES.get("photo"), request.user)
            do(notice, replace(deed, photo=photo), request.user)
        except NotNowError:
            messages.error(request, NOT_NOW)
        except PhotoError as error:
            messages.error(request, error.say(self.language))
        except NotADraftError:
            messages.error(request, SIGNED)
        return redirect("notices_sent", uuid=treatment.pk)

    def _at(self, notice: Notice) -> datetime | None:
        """The typed moment, by the clock at the site."""
        try:
            typed = parse_datetime(self.request.POST.get("at", ""))
        except ValueError:
            return None
        zone = ZoneInfo(notice.site.time_zone or self.firm.time_zone)
        return typed.replace(tzinfo=zone) if typed and typed.tzinfo is None else typed


class FileOfNotice(NoticesPage):
    """An attachment, to print it, or print it again."""

    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        notice = self.notice(self.treatment())
        file = notice.files.filter(place=kwargs["place"]).select_related("kept").first()
        if file is None:
            raise Http404("no such file")
        note_taken(request, self.firm, notice, AuditEntry.Kind.PRINTED)
        answer = HttpResponse(bytes(file.kept.content), content_type=file.media_type)
        answer["Content-Disposition"] = f"attachment; filename*=UTF-8''{quote(file.name)}"
        return answer


class FinishNoticeTask(FirmPage):
    """The button by which the office says that it has seen to it."""

    permission = "records.see_to_notices"

    def post(self, request: HttpRequest, **kwargs: UUID) -> HttpResponse:
        task = NoticeTask.objects.for_firm(self.firm).filter(pk=kwargs["uuid"]).first()
        if task is None:
            raise Http404("no such task")
        finish_task(task, request.user)
        return redirect("home")
