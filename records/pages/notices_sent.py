"""What has become of a treatment's notices: each with its state, what was tried, and what may be done now."""

from dataclasses import dataclass
from typing import Any
from urllib.parse import quote
from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from records.document.words import label
from records.forms.notice_deeds import DeedForm
from records.models import Attempt, AuditEntry, Notice, NoticeTask, Treatment
from records.outbox.by_hand import button_words, deeds_for, finish_task
from records.outbox.outdated import outdated, still_holds
from records.outbox.printing import PDF, print_papers, to_print
from records.pages.firm_page import FirmPage
from records.pages.not_for_crew import hidden_from
from records.pages.seen import note_taken

ON_A_PAGE = 100
NOTHING_WAITS = _("No paper waits to be printed.")
TOLD_OTHERWISE = _("This paper does not tell what is planned now. Tell this person again.")
TO_GIVE = ("ready", "printed", "refused", "voicemail")
GIVEN = (Attempt.Kind.POSTED, Attempt.Kind.HANDED_OVER)


@dataclass(frozen=True)
class Shown:
    """A notice as this member sees it. `stale`: it may still come to the person, and must not; `last`: it is
    what they read last, and no longer holds. `typed` is what was typed of it just now and not taken."""

    notice: Notice
    name: str
    to: str
    means: str
    buttons: list[tuple[str, str | Promise]]
    hidden: bool
    stale: bool
    last: bool
    typed: DeedForm | None


class NoticesPage(FirmPage):
    permission = "records.send_notices"
    template_name = "records/notices_sent.html"

    @property
    def hidden(self) -> frozenset[str]:
        return hidden_from(self.membership)

    def notice(self, treatment: Treatment) -> Notice:
        rows = Notice.objects.for_firm(self.firm).filter(treatment=treatment, pk=self.kwargs["notice"])
        found = rows.exclude(to__in=self.hidden).select_related("firm", "site", "erasure").first()
        if found is None:
            raise Http404("no such notice")
        return found

    def show(self, treatment: Treatment, typed: DeedForm | None = None) -> HttpResponse:
        rows = Notice.objects.for_firm(self.firm).filter(treatment=treatment).select_related("erasure")
        counted = dict(rows.order_by().values_list("state").annotate(n=Count("pk")))
        pages = Paginator(rows.prefetch_related("attempts__by", "files", "tasks"), ON_A_PAGE)
        shown = pages.get_page(self.request.GET.get("page"))
        last = outdated(treatment, Notice.objects.for_firm(self.firm).filter(treatment=treatment))
        return self.page(
            status=422 if typed else 200,
            treatment=treatment,
            zone=treatment.site.time_zone or self.firm.time_zone,
            progress=[(state.label, counted[state]) for state in Notice.State if state in counted],
            pages=shown,
            notices=[self._shown(treatment, each, typed, each in last) for each in shown],
            typed=typed,
            waiting=to_print(treatment, Notice.State.READY, self.hidden),
            printed=to_print(treatment, Notice.State.PRINTED, self.hidden),
        )

    def _shown(self, treatment: Treatment, notice: Notice, typed: DeedForm | None, last: bool) -> Shown:
        hidden = notice.to in self.hidden
        deeds = () if hidden else deeds_for(notice, self.request.user)
        return Shown(
            notice=notice,
            name="" if hidden else notice.name,
            to=label("recipient", notice.to, self.language),
            means=label("means", notice.means, self.language),
            buttons=[(kind.value, button_words(notice, kind)) for kind in deeds],
            hidden=hidden,
            stale=notice.state in TO_GIVE and not notice.is_erased and not still_holds(notice, treatment),
            last=last and not notice.is_erased,
            typed=typed if typed and typed.notice == notice else None,
        )


class NoticesSent(NoticesPage):
    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        return self.show(self.treatment())


class PrintPapers(NoticesPage):
    """The buttons that print all letters and door cards at once: those that wait, or the printed ones again."""

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        state = Notice.State.PRINTED if request.POST.get("again") else Notice.State.READY
        if not (papers := print_papers(treatment, state, request.user, self.hidden)):
            messages.error(request, NOTHING_WAITS)
            return redirect("notices_sent", uuid=treatment.pk)
        return HttpResponse(papers, content_type=PDF, headers={"Content-Disposition": "inline"})


class NoticeDeed(NoticesPage):
    """Where the buttons beside a notice lead."""

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        treatment = self.treatment()
        form = DeedForm(request.POST, request.FILES, notice=self.notice(treatment))
        if not form.is_valid() or not form.keep(request.user, self.language):
            return self.show(treatment, form)
        if form.cleaned_data["deed"] in GIVEN and not still_holds(form.notice, treatment):
            messages.warning(request, TOLD_OTHERWISE)
        page = f"?page={number}" if (number := request.GET.get("page", "")).isdecimal() else ""
        return redirect(f"{reverse('notices_sent', kwargs={'uuid': treatment.pk})}{page}#n{form.notice.pk}")


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
