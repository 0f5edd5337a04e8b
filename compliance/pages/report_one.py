"""One periodic report: its figures as the records give them now, kept as it was sent, and looked at later."""

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import cached_property
from django.utils.translation import gettext as _

from compliance.models import FiledReport
from compliance.pages.report_forms import FileForm
from compliance.pages.reports import OfFiled, OfReport, address_of
from compliance.reports.content import digest_of, figures_of
from compliance.reports.shown import shown_tables
from compliance.selectors import today_of
from compliance.services.reports import (
    ChangedMeanwhileError,
    Wanted,
    file_report,
    filed_versions,
    first_signed_day,
    uncounted,
)
from compliance.services.reports_differ import says_otherwise, wanted_of
from records.pages.seen import note_seen

LINES, OPENS = 200, 50
"""So many of a table and of what is open are shown; the file has them all."""


class ShowsReport(OfReport):
    template_name = "compliance/report.html"

    def show(self, **more: Any) -> HttpResponse:
        content = self.content
        opens = [(content["records"][each["record"]], each) for each in content["open"]]
        tables = [(table, table.lines[:LINES]) for table in shown_tables(content, self.language)]
        return self.page(
            **self.addresses, today=today_of(self.firm), content=content, tables=tables, opens=opens[:OPENS],
            more_opens=max(0, len(opens) - OPENS), filed=self.filed, **more,
        )  # fmt: skip


class OneReport(ShowsReport):
    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.thing)
        return self.show_now(self.form())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = self.form(request.POST)
        if not self.may_be_filed:
            return redirect(self.addresses["here"])
        if not form.is_valid():
            return self.show_now(form, status=422)
        given = {name: form.cleaned_data[name] for name in ("shown", "sent_on", "how")}
        reason = form.cleaned_data.get("reason", "")
        try:
            filed = file_report(self.firm, self.wanted, request.user, reason=reason, **given)
        except ChangedMeanwhileError:
            messages.error(request, _("The records are others than when you opened this page. Look again."))
            return redirect(self.addresses["here"])
        messages.success(request, _("The report is kept as it was sent."))
        return redirect("filed_report", filed=filed.pk)

    @cached_property
    def before(self) -> FiledReport | None:
        return filed_versions(self.firm, self.wanted).first()

    @property
    def is_running(self) -> bool:
        return self.wanted.period.last >= today_of(self.firm)

    @cached_property
    def may_be_filed(self) -> bool:
        """What a rule asks for, once its time is over, unless the one that went out says the same."""
        if self.wanted.duty is None or self.is_running:
            return False
        return self.before is None or figures_of(self.before.content) != figures_of(self.content)

    @property
    def unknown_before(self) -> date | None:
        """The first day of which a record was signed here, where the time begins before it."""
        first = first_signed_day(self.firm)
        return first if first and first > self.wanted.period.first else None

    def form(self, data: Any = None) -> FileForm:
        today, before = today_of(self.firm), self.before
        nil = not any(table["lines"] for table in self.content["tables"])
        return FileForm(
            self.wanted.period, today, data, opens=len(self.content["open"]), amends=before is not None,
            nil=nil, initial={"sent_on": today, "shown": digest_of(self.content)},
        )  # fmt: skip

    def show_now(self, form: FileForm, status: int = 200) -> HttpResponse:
        return self.show(
            form=form, before=self.before, may_be_filed=self.may_be_filed, running=self.is_running,
            own=self.wanted.duty is None, uncounted=uncounted(self.firm, self.wanted.period), status=status,
            unknown_before=self.unknown_before,
        )  # fmt: skip


class FiledOne(ShowsReport, OfFiled):
    """What was sent. Where the records say something else by now, that is said."""

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm, self.filed)
        versions = filed_versions(self.firm, self.wanted).defer("content")
        return self.show(
            differs=self.differs, now=address_of(self.wanted),
            newer=[each for each in versions if each.version > self.filed.version],
        )  # fmt: skip

    @cached_property
    def wanted(self) -> Wanted:
        return wanted_of(self.filed)

    @cached_property
    def differs(self) -> bool:
        return says_otherwise(self.filed, self.wanted)
