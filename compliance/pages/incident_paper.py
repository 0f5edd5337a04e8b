"""The report of an incident as PDF."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.http import Http404, HttpRequest, HttpResponse

from compliance.pages.incidents import IncidentsPage
from compliance.papers import incident_report
from compliance.papers.incident_report import Step, Told
from compliance.papers.speech import joined
from records.document.reader import read
from records.document.types import DOCUMENT_SCHEMA, Product, TreatmentDocument
from records.models import AuditEntry, Incident, IncidentEntry
from records.pages.seen import note_taken
from records.reference import product_part
from records.selectors import document_of, newest_signed
from records.templatetags.treatments import address
from shared.wording import LANGUAGES


class IncidentReport(IncidentsPage):
    def get(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        language = kwargs["language"]
        if language not in LANGUAGES:
            raise Http404("no such language")
        note_taken(request, self.firm, self.incident, AuditEntry.Kind.PRINTED)
        told, document = told_of(self.incident, names=request.GET.get("names") == "yes")
        pdf = incident_report.build(told, document, language, self.firm.paper)
        answer = HttpResponse(pdf, content_type="application/pdf")
        name = f"incident-{self.incident.happened_at:%Y-%m-%d}-{language}.pdf"
        answer["Content-Disposition"] = f'inline; filename="{name}"'
        return answer


def told_of(incident: Incident, names: bool) -> tuple[Told, TreatmentDocument | None]:
    """The incident as the report is drawn from it, and the document of its treatment; with `names` of those
    who were affected where they are asked for."""
    treatment, entries = incident.treatment, incident.entries.select_related("by")
    signed = newest_signed(treatment) if treatment else None
    document = document_of(signed) if signed else treatment and treatment.document
    kind = IncidentEntry.Kind
    told = Told(
        **_who_and_when(incident),
        place=joined((treatment and treatment.site_name, address(_address_of(incident.site)), incident.place)),
        description=incident.description,
        amount=incident.amount,
        reached=incident.reached,
        affected=incident.affected,
        names=incident.names if names else "",
        named=bool(incident.names),
        action=incident.action,
        product=_product(incident),
        told=[_step(each, incident) for each in entries if each.kind == kind.TOLD],
        since=[_step(each, incident) for each in entries if each.kind in (kind.NOTE, kind.CLOSED, kind.OPENED)],
        number=treatment.number if treatment else "",
        signed=signed is not None,
    )
    return told, read(document) if document else None


def _who_and_when(incident: Incident) -> dict[str, Any]:
    firm = incident.firm
    return {
        "firm": firm.name,
        "address": address(_address_of(firm)),
        "phone": firm.phone,
        "kind": incident.kind,
        "state": incident.state,
        "happened_at": _local(incident.happened_at, incident),
        "known_at": _local(incident.known_at, incident),
        "begun_at": _local(incident.begun_at, incident),
        "begun_by": incident.begun_by.name,
        "zone": incident.time_zone,
        "customary": (incident.jurisdictions or [""])[0] == "us",
    }


def _address_of(row: Any) -> dict[str, str]:
    return (
        {name: getattr(row, name) for name in ("line1", "line2", "city", "region", "postcode")} if row else {}
    )


def _step(entry: IncidentEntry, incident: Incident) -> Step:
    at = _local(entry.at, incident)
    under = entry.paragraph
    return Step(at, entry.by.name, entry.text, entry.to, entry.how, entry.number, under)


def _product(incident: Incident) -> Product | None:
    """The product as its label of that day states it."""
    if incident.product is None:
        return None
    day = incident.happened_at.astimezone(ZoneInfo(incident.time_zone)).date()
    line = product_part(incident.product, None, day)
    document = read({"schema": DOCUMENT_SCHEMA, "record": {}, "mixes": [{"products": [line]}]})
    return document.mixes[0].products[0] if document.mixes and document.mixes[0].products else None


def _local(moment: datetime, incident: Incident) -> str:
    return moment.astimezone(ZoneInfo(incident.time_zone)).isoformat(timespec="seconds")
