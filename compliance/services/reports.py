"""Make a periodic report of the firm's signed records, and keep it as it was filed."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from compliance.models import FiledReport
from compliance.reports.content import OWN, ReportDuty, content_of, digest_of, figures_of, own_form
from compliance.reports.periods import Period
from compliance.reports.sums import Sums
from compliance.reports.uses import Source, areas_of, is_report_of_work, uses_of
from compliance.rulebook.places import widened
from compliance.rulebook.report_form import ReportForm
from records.document.as_signed import as_signed
from records.document.types import TreatmentDocument
from records.models import AuditEntry, Firm, Licence, SignedRecord, Treatment, User
from records.models.treatments import SIGNED_STATES
from records.permissions import demand
from records.services.audit import note
from shared.folded import sought

Json = dict[str, Any]
READ = ("site", "timing", "surfaces", "mixes")
"""What a report reads of a document beside its record."""
AT_ONCE = 500


@dataclass(frozen=True)
class Wanted:
    """Which report: `duty` None for the firm's own summary, `county` empty for all of them."""

    duty: ReportDuty | None
    period: Period
    county: str = ""

    @property
    def rule(self) -> str:
        return self.duty.key if self.duty else OWN

    @property
    def token(self) -> str:
        """The rule as an address has it."""
        return self.rule.replace("/", ":")


class ChangedMeanwhileError(ValueError):
    """The records are others than when the report was shown."""


def make_report(firm: Firm, wanted: Wanted) -> Json:
    """The report as the newest versions that stand give it."""
    form = form_of(firm, wanted.duty)
    sums = Sums(form)
    for source, document in _signed(firm, wanted.period):
        if not _is_there(document, wanted.duty):
            continue
        county = (document.site and document.site.county) or ""
        if not form.per_county or same_county(county, wanted.county):
            sums.add(uses_of(document, source), areas_of(document, source))
        elif not county.strip() and is_report_of_work(document):
            sums.leave_out(source, "of_no_county")
    county = wanted.county if form.per_county else ""
    return content_of(wanted.duty, form, wanted.period, county, _head(firm, wanted), sums.as_json())


def form_of(firm: Firm, duty: ReportDuty | None) -> ReportForm:
    return duty.form if duty else own_form(metric=is_metric(firm))


def is_metric(firm: Firm) -> bool:
    return not any(place.split("-")[0] == "us" for place in firm.jurisdictions)


def filed_versions(firm: Firm, wanted: Wanted) -> QuerySet[FiledReport]:
    """What was filed of this report, the newest first."""
    rows = FiledReport.objects.for_firm(firm).filter(
        rule=wanted.rule, period=str(wanted.period), county=wanted.county
    )
    return rows.order_by("-version")


@transaction.atomic
def file_report(
    firm: Firm, wanted: Wanted, by: User, *, shown: str, sent_on: date, how: str, reason: str = ""
) -> FiledReport:
    """Keep the report as it is now. `shown` is the digest of what the person saw. What was kept with the same
    figures is not kept twice: that one is given back. Raises PermissionDenied, ChangedMeanwhileError, also for
    an amendment whose reason nobody was asked for."""
    demand(by, "compliance.file_reports", firm)
    Firm.objects.for_firm(firm).select_for_update().get()
    content = make_report(firm, wanted)
    if digest_of(content) != shown:
        raise ChangedMeanwhileError
    before = filed_versions(firm, wanted).first()
    if before and figures_of(before.content) == figures_of(content):
        return before
    if before and not reason:
        raise ChangedMeanwhileError
    filed = FiledReport.objects.create(
        firm=firm, rule=wanted.rule, period=str(wanted.period), county=wanted.county, content=content,
        version=before.version + 1 if before else 1, digest=shown, sent_on=sent_on, how=how,
        reason=reason if before else "", by=by,
    )  # fmt: skip
    note(AuditEntry.Kind.SENT, filed, firm=firm, by=by, reason=how)
    return filed


def first_signed_day(firm: Firm) -> date | None:
    """Of the days before it nothing is known here."""
    rows = Treatment.objects.for_firm(firm).filter(state__in=SIGNED_STATES).exclude(day=None)
    return rows.order_by("day").values_list("day", flat=True).first()


def uncounted(firm: Firm, period: Period) -> dict[str, int]:
    """How many treatments of the period are in no report, by their state: unsigned, brought in, or void."""
    rows = Treatment.objects.for_firm(firm).filter(day__range=(period.first, period.last))
    of = Treatment.State
    return {state: rows.filter(state=state).count() for state in (of.DRAFT, of.BROUGHT_IN, of.VOID)}


def signed_in(firm: Firm, period: Period) -> QuerySet[Treatment]:
    """The treatments of the period that stand signed."""
    rows = Treatment.objects.for_firm(firm).filter(state__in=SIGNED_STATES)
    return rows.filter(day__range=(period.first, period.last))


def _signed(firm: Firm, period: Period) -> Iterator[tuple[Source, TreatmentDocument]]:
    """What their newest versions state, in the order of days."""
    records = SignedRecord.objects.for_firm(firm).filter(
        replaced_by=None, treatment__in=signed_in(firm, period).values("pk")
    )
    ordered = records.order_by("treatment__day", "treatment__number").values_list(
        "treatment_id", "treatment__number", "version", "digest", "record", "section_lines"
    )
    for treatment, number, version, digest, record, lines in ordered.iterator(chunk_size=AT_ONCE):
        source = Source(str(treatment), number, version, digest)
        yield source, as_signed(bytes(record), bytes(lines), READ)


def _is_there(document: TreatmentDocument, duty: ReportDuty | None) -> bool:
    """Whether it was done at the place whose rule asks."""
    places = (document.site and document.site.jurisdictions) or ()
    return duty is None or duty.pack.place in widened(places)


def same_county(one: str, other: str) -> bool:
    return sought(one) == sought(other)


def _head(firm: Firm, wanted: Wanted) -> Json:
    lines = (firm.line1, firm.line2, " ".join(part for part in (firm.city, firm.region, firm.postcode) if part))
    return {
        "name": firm.name,
        "address": ", ".join(line for line in lines if line),
        "phone": firm.phone,
        "licences": list(_licences(firm, wanted)),
    }


def _licences(firm: Firm, wanted: Wanted) -> Iterator[Json]:
    """The firm's own of the period, from who asks for the report; renewed under one number it is one."""
    duty, period = wanted.duty, wanted.period
    rows = Licence.objects.for_firm(firm).filter(person=None)
    rows = rows.exclude(valid_from__gt=period.last).exclude(valid_to__lt=period.first)
    names = ("authority", "kind", "number")
    for each in rows.order_by(*names).values(*names).distinct():
        if duty is None or each["authority"] in widened((duty.pack.place,)):
            yield each
