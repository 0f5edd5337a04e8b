"""What a request asks for as the records stood when it came in: a correction signed later takes nothing out of
the answer."""

from collections.abc import Iterable, Iterator
from uuid import UUID

from compliance.models import RecordsRequest, StoredCheck
from compliance.stored_register import open_rules
from records.bundle.entered import batched
from records.document.days import treatment_day
from records.document.reader import read
from records.models import Firm, SignedRecord, Treatment
from records.register.fitting import Held, fits
from records.register.terms import CANT_TELL, NOT_MET, of_rules, strongest_wind, terms_of
from records.register.wanted import RegisterFilter
from records.selectors import document_of

_KEPT = "_fitted_before"
_STATES = {
    SignedRecord.Kind.SIGNED: Treatment.State.SIGNED,
    SignedRecord.Kind.CORRECTED: Treatment.State.CORRECTED,
    SignedRecord.Kind.VOID: Treatment.State.VOID,
}


def fitted_before(request: RecordsRequest, wanted: RegisterFilter) -> list[UUID]:
    """The treatments of which a version fits that held when the request came in, or was signed later, and has
    been replaced since. They are looked for once, as long as no more are replaced."""
    late = SignedRecord.objects.for_firm(request.firm).filter(received_at__gt=request.received_at)
    replaced = list(late.exclude(replaces=None).order_by().values_list("replaces", flat=True))
    kept: dict[int, list[UUID]] = vars(request).setdefault(_KEPT, {})
    if len(replaced) not in kept:
        kept[len(replaced)] = sorted(set(_fitting(request.firm, replaced, wanted)))
    return kept[len(replaced)]


def _fitting(firm: Firm, versions: Iterable[UUID], wanted: RegisterFilter) -> Iterator[UUID]:
    rows = SignedRecord.objects.for_firm(firm).select_related("treatment")
    for some in batched(versions):
        for version in rows.in_bulk(some).values():
            if fits(_held(version, checked=bool(wanted.outcome or wanted.finding)), wanted):
                yield version.treatment_id


def _held(version: SignedRecord, *, checked: bool) -> Held:
    """With what its last check found, where that is asked for."""
    document, treatment = read(document_of(version)), version.treatment
    found, outcome = terms_of(document), ""
    checks = StoredCheck.objects.for_firm(version.firm).filter(signed_record=version)
    if checked and (check := checks.order_by("-at").first()):
        not_met, cant_tell = open_rules(check.stored)
        found |= of_rules(NOT_MET, not_met) | of_rules(CANT_TELL, cant_tell)
        outcome = check.outcome
    return Held(
        number=treatment.number,
        day=treatment_day(document) or treatment.day,
        state=_STATES[SignedRecord.Kind(version.kind)],
        outcome=outcome,
        wind=strongest_wind(document),
        terms=found,
    )
