"""What a request asks for as the records stood when it came in: neither a correction nor a check made later
takes anything out of the answer."""

from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple
from uuid import UUID

from compliance.models import RecordsRequest, StoredCheck
from compliance.stored_form import unsqueezed
from compliance.stored_register import open_rules_in
from records.bundle.entered import batched
from records.models import SignedRecord
from records.register.fitting import fits
from records.register.terms import CANT_TELL, NOT_MET, Term, of_rules
from records.register.wanted import RegisterFilter
from records.register_before import COLUMNS, held_by
from records.register_search import treatments_of

_KEPT = "_fitted_before"
Version = tuple[UUID, int]
"""Of a treatment the version of this number."""


class Found(NamedTuple):
    """What a check found, as the register keeps it."""

    outcome: str
    terms: set[Term]


def fitted_before(
    request: RecordsRequest, wanted: RegisterFilter, now: Collection[UUID] | None = None
) -> list[UUID]:
    """The treatments that do not fit now, and of which a version fits that held when the request came in, or
    was signed later and has been replaced since, with what had been found of it then. They are looked for once,
    as long as no more are replaced or checked. `now` are those that fit now, where they are known."""
    replaced, checked = _replaced(request), _checked_since(request) if _asks_of_checks(wanted) else []
    kept: dict[tuple[int, int], list[UUID]] = vars(request).setdefault(_KEPT, {})
    key = len(replaced), len(checked)
    if key not in kept:
        kept[key] = sorted(set(_fitting(request, {*replaced, *checked}, wanted, now)))
    return kept[key]


def _asks_of_checks(wanted: RegisterFilter) -> bool:
    return bool(wanted.outcome or wanted.finding)


def _replaced(request: RecordsRequest) -> list[Version]:
    """Those whose place a later version has taken since, by its number: of the row itself, long columns would
    have to be read."""
    signed = SignedRecord.objects.for_firm(request.firm).filter(version__gt=1).order_by()
    late = signed.filter(received_at__gt=request.received_at).values_list("treatment", "version")
    return [(treatment, number - 1) for treatment, number in late]


def _checked_since(request: RecordsRequest) -> list[Version]:
    """The versions that held when it came in and were checked again later."""
    late = StoredCheck.objects.for_firm(request.firm).filter(at__gt=request.received_at)
    held = late.filter(signed_record__received_at__lte=request.received_at)
    return list(held.order_by().values_list("treatment", "signed_record__version"))


def _fitting(
    request: RecordsRequest,
    versions: Collection[Version],
    wanted: RegisterFilter,
    now: Collection[UUID] | None,
) -> Iterator[UUID]:
    rows = SignedRecord.objects.for_firm(request.firm).order_by()
    if versions and now is None:
        now = set(treatments_of(request.firm, wanted).order_by().values_list("pk", flat=True))
    left = {version for version in versions if version[0] not in (now or ())}
    for some in batched(sorted({treatment for treatment, _number in left})):
        named = rows.filter(treatment__in=some).values_list("pk", "treatment", "version")
        pks = [pk for pk, treatment, number in named if (treatment, number) in left]
        found = _found_then(request, pks) if _asks_of_checks(wanted) else {}
        for version in rows.filter(pk__in=pks).values_list(*COLUMNS, named=True):
            outcome, terms = found.get(version.pk, Found("", set()))
            if fits(held_by(version, wanted, outcome, terms), wanted):
                yield version.treatment_id


def _found_then(request: RecordsRequest, versions: Iterable[UUID]) -> dict[UUID, Found]:
    """Of each version by the check that was the newest when the request came in; by its first, where it was
    signed later."""
    checks = StoredCheck.objects.for_firm(request.firm).filter(signed_record__in=list(versions))
    chosen: dict[UUID, UUID] = {}
    for pk, of, at in checks.order_by("at", "pk").values_list("pk", "signed_record", "at"):
        if at <= request.received_at or of not in chosen:
            chosen[of] = pk
    bodies = checks.filter(pk__in=chosen.values()).values_list("signed_record", "outcome", "body")
    return {of: Found(outcome, _terms(body)) for of, outcome, body in bodies}


def _terms(body: bytes) -> set[Term]:
    not_met, cant_tell = open_rules_in(unsqueezed(bytes(body)))
    return of_rules(NOT_MET, not_met) | of_rules(CANT_TELL, cant_tell)
