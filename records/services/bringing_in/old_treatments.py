"""A row of an old log as a treatment that was brought in: document and register columns, no signature."""

from typing import Any
from uuid import UUID, uuid5

from django.utils.translation import gettext as _
from django.utils.translation import override

from records.arriving.document import build
from records.arriving.entries import Entry
from records.document.faults import DocumentFaults
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.imports.faults import FileError, FileFault, refused
from records.models import ArrivalFile, Customer, Licence, Site, Treatment
from records.register.terms import Term, terms_of
from records.services.bringing_in.makers import refuse_unfit
from records.services.bringing_in.places import Places
from records.services.projection import set_columns
from shared import clock
from shared.folded import folded
from shared.tenancy import FirmOwned
from shared.times import read_time

LONGEST_NUMBER = Treatment._meta.get_field("number").max_length or 20


class OldTreatments:
    """Makes the treatments of one file; `numbers` are those of the rows at hand that the firm has already."""

    kind = "treatments"

    def __init__(self, file: ArrivalFile) -> None:
        self.file, self.firm, self.now = file, file.firm, clock.now()
        self.places = Places(file.firm, file)
        self.firm_part = {"id": str(file.firm.pk), "name": file.firm.name}
        self.numbers: set[str] = set()
        self._parsed: dict[UUID, TreatmentDocument] = {}
        rows = Treatment.objects.for_firm(file.firm).filter(state=Treatment.State.BROUGHT_IN)
        held = Licence.objects.for_firm(file.firm).filter(person__isnull=False)
        self._holders = {folded(number): name for number, name in held.values_list("number", "person__name")}
        self._there = {hash(each) for each in rows.values_list("site_id", "day", "products").iterator()}
        with override(file.firm.language):
            self._origin = _("Brought in from the file %(file)s, row %(row)s.")

    def make(self, entry: Entry, row: int) -> list[FirmOwned]:
        """No rows where it was brought in before. Raises FileError."""
        pk, customer = self.places.customer(entry)
        site_part, site = self.places.site(pk, entry)
        treatment, lines = self._treatment(entry, row, {"id": str(pk), "name": entry["customer"]}, site_part)
        if site is None and hash((treatment.site_id, treatment.day, treatment.products)) in self._there:
            return []
        if (number := treatment.number) in self.numbers and number:
            raise refused("number_taken", number=number)
        made = [each for each in (customer, site) if each]
        refuse_unfit(made)
        return [*made, treatment, *lines]

    def terms(self, treatment: Treatment) -> set[Term]:
        """By what the register finds the one that was made last."""
        return terms_of(self._parsed[treatment.pk])

    def learn(self, rows: list[FirmOwned]) -> None:
        for each in rows:
            if isinstance(each, Customer | Site):
                self.places.learn(each)

    def _treatment(self, entry: Entry, row: int, customer: Any, site: Any) -> tuple[Treatment, list[Any]]:
        uuid = uuid5(self.file.uuid, f"treatment\0{row}")
        if len(entry.get("number", "")) > LONGEST_NUMBER:
            raise refused("too_long", most=str(LONGEST_NUMBER))
        origin = self._origin % {"file": self.file.name, "row": row}
        parts = {"firm": self.firm_part, "customer": customer, "site": site}
        document = build(entry, str(uuid), parts, origin, self.firm.language, self._holder(entry))
        try:
            parsed = read(document)
        except DocumentFaults as error:
            raise FileError(*(FileFault("document", {"why": fault}) for fault in error.faults)) from error
        treatment = Treatment(
            uuid=uuid,
            firm=self.firm,
            site_id=UUID(site["id"]),
            number=entry.get("number", ""),
            state=Treatment.State.BROUGHT_IN,
            planned_by=self.file.by,
            planned_at=read_time(document["timing"].get("started_at") or document["timing"]["planned_at"]),
            document=document,
            created_at=self.now,
        )
        self._parsed = {uuid: parsed}
        return treatment, set_columns(treatment, parsed)

    def _holder(self, entry: Entry) -> str:
        return self._holders.get(folded(entry.get("licence", "")), "")


def taken_numbers(file: ArrivalFile, numbers: list[str]) -> set[str]:
    rows = Treatment.objects.for_firm(file.firm).filter(number__in=numbers)
    return set(rows.values_list("number", flat=True))
