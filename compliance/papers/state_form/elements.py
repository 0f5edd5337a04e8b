"""What a record says to each thing that an official form may ask for: lines, empty where it does not."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from compliance.papers.record_sheet.place import total_treated
from compliance.papers.speech import Speech, address_line, joined
from compliance.papers.state_form import work_said
from compliance.papers.state_form.work_said import Lines, Say
from records.document.types import Licence, Person, TreatmentDocument

_IN_CHARGE = ("licensee", "supervisor")
POWERED = "powered-sprayer"


@dataclass(frozen=True)
class Element:
    """The `section` of the record that holds it, and how it is said."""

    section: str
    say: Say


def lines_of(element: str, document: TreatmentDocument, speech: Speech) -> Lines:
    """At least one line."""
    return ELEMENTS[element].say(document, speech) or [""]


def applicators_of(document: TreatmentDocument) -> list[Person]:
    """Who sprayed, else who is said to be an applicator."""
    people = document.people or ()
    sprayed = [one for one in people if "sprayed" in (one.tasks or ())]
    return sprayed or [one for one in people if one.role == "applicator"]


def _timed(name: str) -> Say:
    def say(document: TreatmentDocument, speech: Speech) -> Lines:
        return [speech.time(getattr(document.timing, name, None))]

    return say


def _day(document: TreatmentDocument, speech: Speech) -> Lines:
    started = document.timing and document.timing.started_at
    return [speech.long_date(speech.local(started).date()) if started else ""]


def _customer(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [(document.customer and document.customer.name) or ""]


def _customer_address(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [address_line(document.customer.address) if document.customer else ""]


def _licensee(document: TreatmentDocument, _speech: Speech) -> Lines:
    """Who holds the firm's licence, else whose licence covered the work."""
    holders = [one.holder for one in (document.firm and document.firm.licences) or () if one.holder]
    charged = [one.name for one in document.people or () if one.role in _IN_CHARGE and one.name]
    return [joined(dict.fromkeys(holders or charged))]


def _firm(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [(document.firm and document.firm.name) or ""]


def _firm_licence(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [_numbers((document.firm and document.firm.licences) or ())]


def _firm_phone(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [(document.firm and document.firm.phone) or ""]


def _firm_address(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [address_line(document.firm.address) if document.firm else ""]


def _applied_by(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [one.name or "" for one in applicators_of(document)]


def _applicator_licence(document: TreatmentDocument, speech: Speech) -> Lines:
    none = speech.word("work/no-licence")
    return [_numbers(one.licences or ()) if one.licences != [] else none for one in applicators_of(document)]


def _numbers(licences: Iterable[Licence]) -> str:
    return joined(dict.fromkeys(one.number for one in licences if one.number))


def _treated(document: TreatmentDocument, speech: Speech) -> Lines:
    kinds = dict.fromkeys(speech.listed("surface_kind", one.kind) for one in document.surfaces or ())
    use = speech.listed("site_use", document.site.use) if document.site else ""
    return [joined((use, joined(kinds)), ": ")]


def _total_area(document: TreatmentDocument, speech: Speech) -> Lines:
    return [total_treated(document, speech)]


def _permit(document: TreatmentDocument, speech: Speech) -> Lines:
    if document.permits is None:
        return [""]
    said = [joined((one.number, one.authority and one.authority.upper()), " ") for one in document.permits]
    return said or [speech.word("form/no")]


def _place(document: TreatmentDocument, _speech: Speech) -> Lines:
    site = document.site
    if site is None:
        return [""]
    position = joined((site.position.latitude, site.position.longitude)) if site.position else ""
    return [joined((address_line(site.address) or position, site.county), "; ")]


def _apparatus(document: TreatmentDocument, speech: Speech) -> Lines:
    return [joined((one.name, speech.listed("method", one.method))) for one in document.equipment or ()]


def _plate(document: TreatmentDocument, _speech: Speech) -> Lines:
    """Of powered gear: what a pack on the back or a can is marked with is no plate."""
    gear = document.equipment or ()
    return [(one.identification or "") if one.method in (None, POWERED) else "" for one in gear]


def _way(document: TreatmentDocument, speech: Speech) -> Lines:
    """Whatever this service keeps was put on from the ground, from a ladder or from a lift."""
    return [speech.word("form/ground") if document.equipment or document.mixes else ""]


def _remarks(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [document.notes or ""]


def _by_hand(_document: TreatmentDocument, _speech: Speech) -> Lines:
    return [""]


ELEMENTS: Mapping[str, Element] = {
    "day": Element("timing", _day),
    "started": Element("timing", _timed("started_at")),
    "finished": Element("timing", _timed("finished_at")),
    "customer": Element("customer", _customer),
    "customer_address": Element("customer", _customer_address),
    "licensee": Element("firm", _licensee),
    "firm": Element("firm", _firm),
    "firm_licence": Element("firm", _firm_licence),
    "firm_phone": Element("firm", _firm_phone),
    "firm_address": Element("firm", _firm_address),
    "applied_by": Element("people", _applied_by),
    "applicator_licence": Element("people", _applicator_licence),
    "treated": Element("surfaces", _treated),
    "total_area": Element("surfaces", _total_area),
    "permit": Element("permits", _permit),
    "product": Element("mixes", work_said.product),
    "registration": Element("mixes", work_said.registration),
    "product_applied": Element("mixes", work_said.product_applied),
    "product_rate": Element("mixes", work_said.product_rate),
    "strength": Element("mixes", work_said.strength),
    "place": Element("site", _place),
    "wind_from": Element("weather", work_said.wind_from),
    "wind_speed": Element("weather", work_said.wind_speed),
    "temperature": Element("weather", work_said.temperature),
    "apparatus": Element("equipment", _apparatus),
    "plate": Element("equipment", _plate),
    "way": Element("equipment", _way),
    "remarks": Element("notes", _remarks),
    "by_hand": Element("", _by_hand),
}
