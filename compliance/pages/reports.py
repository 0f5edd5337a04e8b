"""Periodic reports: which are owed by when, which run, and what went out. For managers."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.http import urlencode

from compliance.models import FiledReport
from compliance.pages.report_forms import PeriodForm
from compliance.reports.content import OWN, table_of
from compliance.reports.periods import read_period
from compliance.selectors import today_of
from compliance.services.reports import Wanted, make_report
from compliance.services.reports_differ import is_wrong
from compliance.services.reports_due import duty_of, reports_due
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.services.audit import Thing

Json = dict[str, Any]
FILED = 50
OWN_TOKEN = OWN.replace("/", ":")


class ReportsPage(FirmPage):
    permission = "compliance.file_reports"


class Reports(ReportsPage):
    template_name = "compliance/reports.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = PeriodForm(request.GET if "of" in request.GET else None)
        if form.is_valid():
            return redirect("report", duty=OWN_TOKEN, period=str(form.cleaned_data["of"]))
        note_seen(request, self.firm)
        known = reports_due(self.firm)
        filed = FiledReport.objects.for_firm(self.firm).defer("content").select_related("by", "firm")
        newest = {(each.rule, each.period, each.county): each.pk for each in filed.order_by("version")}
        sent = [(each, newest[each.rule, each.period, each.county] == each.pk) for each in filed[:FILED]]
        return self.page(
            form=form,
            today=today_of(self.firm),
            owed=[each for each in known if each.is_owed],
            running=[each for each in known if each.running],
            filed=[(each, duty_of(each.rule), is_newest and is_wrong(each)) for each, is_newest in sent],
            status=422 if form.errors else 200,
        )


class OfReport(ReportsPage):
    """A page of one report, as the records give it now."""

    filed: FiledReport | None = None

    @cached_property
    def wanted(self) -> Wanted:
        """Which one the address asks for; Http404 for none that there is."""
        token = self.kwargs["duty"]
        duty = None if token == OWN_TOKEN else duty_of(token.replace(":", "/"))
        try:
            period = read_period(self.kwargs["period"])
        except ValueError:
            raise Http404("no such period") from None
        if duty is None and token != OWN_TOKEN:
            raise Http404("no such report")
        if duty and duty.kind.monthly != (period.month is not None):
            raise Http404("no such period of this report")
        county = self.request.GET.get("county", "")[:300] if duty and duty.form.per_county else ""
        return Wanted(duty, period, " ".join(county.replace("\0", "").split()))

    @cached_property
    def content(self) -> Json:
        return make_report(self.firm, self.wanted)

    @property
    def thing(self) -> Any:
        """What an entry of who did what is about."""
        wanted = self.wanted
        name = " ".join((wanted.rule, str(wanted.period), wanted.county)).strip()
        return Thing("page", f"report {name}", name)

    @property
    def base(self) -> str:
        """Where the addresses of its files and figures begin."""
        return _base(self.wanted)

    @property
    def query(self) -> str:
        return _query(self.wanted)

    @property
    def addresses(self) -> Json:
        return {"base": self.base, "query": self.query, "here": f"{self.base}{self.query}"}

    def table(self) -> Json:
        """The table of the address; Http404 where the report has none of that name."""
        found = table_of(self.content, self.kwargs["table"])
        if found is None:
            raise Http404("no such table")
        return found

    @property
    def file_name(self) -> str:
        county = "-".join(word for word in self.content["county"].casefold().split() if word.isascii())
        return "-".join(part for part in ("use-report", self.content["period"], county) if part)


class OfFiled(OfReport):
    """A page of one report as it was filed; Http404 where the firm has none of that id."""

    @cached_property
    def filed(self) -> FiledReport:  # type: ignore[override]
        rows = FiledReport.objects.for_firm(self.firm).select_related("by", "firm")
        return get_object_or_404(rows, pk=self.kwargs["filed"])

    @cached_property
    def content(self) -> Json:
        stored: Json = self.filed.content
        return stored

    @property
    def thing(self) -> Any:
        return self.filed

    @property
    def base(self) -> str:
        return reverse("filed_report", kwargs={"filed": self.filed.pk})

    @property
    def query(self) -> str:
        return ""


def address_of(wanted: Wanted) -> str:
    """The page of a report as the records give it now."""
    return f"{_base(wanted)}{_query(wanted)}"


def _base(wanted: Wanted) -> str:
    return reverse("report", kwargs={"duty": wanted.token, "period": str(wanted.period)})


def _query(wanted: Wanted) -> str:
    return f"?{urlencode({'county': wanted.county})}" if wanted.county else ""
