"""Records on the form on which an authority wants copies, each in the version that holds, or that held when the
log had so many entries (`log_size`)."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.db.models import Exists, OuterRef, Q, QuerySet

from compliance.pack_reader import registered_packs
from compliance.papers import state_form
from compliance.papers.state_form import FormFor
from compliance.rulebook.official_forms import OfficialForm
from compliance.rulebook.pack import Pack
from compliance.selectors import packs_for
from records.models import Firm, SignedRecord, Treatment, TreatmentTerm
from records.record_files import record_file
from records.register import terms
from records.selectors import newest_signed
from records.services.handing_over import left_out

AT_ONCE = 50
"""Treatments on one paper; more make more papers."""


@dataclass(frozen=True)
class FormOfPack:
    """A form, and the pack whose authority wants it."""

    pack: Pack
    form: OfficialForm

    @property
    def name(self) -> str:
        return f"{self.pack.id}-{self.form.id}"

    def holds_for(
        self, treatments: QuerySet[Treatment], firm: Firm, log_size: int | None = None
    ) -> QuerySet[Treatment]:
        """Those of these treatments that lie in its place and have something signed."""
        within = Q(term__written=self.pack.place) | Q(term__written__startswith=f"{self.pack.place}-")
        here = TreatmentTerm.objects.for_firm(firm).filter(
            within, treatment=OuterRef("pk"), term__kind=terms.PLACE
        )
        signed = SignedRecord.objects.for_firm(firm).filter(treatment=OuterRef("pk"))
        if log_size is not None:
            signed = signed.exclude(entry__index__gte=log_size)
        return treatments.filter(Exists(here), Exists(signed))


def forms_for(firm: Firm, day: date) -> list[FormOfPack]:
    """The forms of the packs in force where the firm works."""
    packs = packs_for(firm, day).in_force
    return [FormOfPack(pack, form) for pack in packs for form in pack.forms]


def form_named(name: str) -> FormOfPack | None:
    """A form by pack and id: `us-wa-application-record`."""
    known = (FormOfPack(pack, form) for pack in registered_packs() for form in pack.forms)
    return next((each for each in known if each.name == name), None)


def drawn_form(
    found: FormOfPack,
    treatments: Sequence[Treatment],
    language: str,
    *,
    withheld: Collection[str] = (),
    authority: str = "",
    asked_at: datetime | None = None,
    log_size: int | None = None,
) -> bytes:
    """The paper of these treatments of one firm, at least one with something signed; PDF."""
    files = [
        _without(record_file(record, with_log=False, log_size=log_size), left_out(withheld))
        for treatment in treatments
        if (record := newest_signed(treatment, log_size))
    ]
    paper = treatments[0].firm.paper
    return state_form.build(found.form, files, language, paper, FormFor(authority, asked_at))


def form_files(
    firm: Firm,
    treatments: Sequence[UUID],
    languages: Sequence[str],
    day: date,
    *,
    log_size: int | None = None,
    **what: Any,
) -> Iterator[tuple[str, bytes]]:
    """Names and bytes of the papers that go along with these treatments: those of one site together. `what`
    is as `drawn_form` has it. No more treatments are held at once than stand on one paper."""
    for found in forms_for(firm, day):
        for number, some in enumerate(_together(firm, found, treatments, log_size), start=1):
            for language in languages:
                yield (
                    f"forms/{found.name}-{number:04}-{language}.pdf",
                    drawn_form(found, some, language, log_size=log_size, **what),
                )


def _together(
    firm: Firm, found: FormOfPack, treatments: Sequence[UUID], log_size: int | None
) -> Iterator[list[Treatment]]:
    """Treatments of one site at a time, at most so many as stand on one paper."""
    wanted = set(treatments)
    held = found.holds_for(Treatment.objects.for_firm(firm), firm, log_size)
    rows = held.order_by("site", "day", "number")
    some: list[UUID] = []
    site = None
    for pk, at in rows.values_list("pk", "site").iterator():
        if pk not in wanted:
            continue
        if some and (at != site or len(some) == AT_ONCE):
            yield _in_order(firm, some)
            some = []
        some.append(pk)
        site = at
    if some:
        yield _in_order(firm, some)


def _in_order(firm: Firm, treatments: Sequence[UUID]) -> list[Treatment]:
    found = Treatment.objects.for_firm(firm).select_related("firm").in_bulk(treatments)
    return [found[pk] for pk in treatments if pk in found]


def _without(file: dict[str, Any], withheld: Collection[str]) -> dict[str, Any]:
    """The record file without these sections."""
    for part in ("sections", "salts"):
        file[part] = {name: kept for name, kept in file[part].items() if name not in withheld}
    if file["record"]["sections"].keys() - file["sections"].keys():
        file.pop("seal", None)
    return file
