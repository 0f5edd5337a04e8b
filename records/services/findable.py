"""Keep by what the register finds a treatment; the only writer of terms."""

from collections.abc import Collection, Iterable

from django.db.models import Exists, OuterRef

from records.bundle.entered import batched
from records.models import Firm, RegisterTerm, Treatment, TreatmentTerm
from records.register.terms import Term

_Named = tuple[str, str]


def keep_terms(treatment: Treatment, kinds: Collection[str], wanted: Collection[Term]) -> None:
    """Of these kinds the treatment is found by these terms and no others, on its day."""
    links = TreatmentTerm.objects.for_firm(treatment.firm).filter(treatment=treatment)
    rows = list(links.filter(term__kind__in=kinds).values_list("pk", "term__kind", "term__folded"))
    links.exclude(day=treatment.day).update(day=treatment.day)
    kept = {(kind, folded) for _pk, kind, folded in rows}
    named = {(term.kind, term.folded): term for term in wanted}
    if gone := [pk for pk, kind, folded in rows if (kind, folded) not in named]:
        links.filter(pk__in=gone).delete()
    if new := [term for name, term in named.items() if name not in kept]:
        find_new_by(treatment.firm, [(treatment, new)])


def forget_unused_terms(firm: Firm) -> None:
    """Take out terms of the firm by which nothing is found any more: they may name people."""
    used = TreatmentTerm.objects.for_firm(firm).filter(term=OuterRef("pk"))
    RegisterTerm.objects.for_firm(firm).filter(~Exists(used)).delete()


def find_new_by(firm: Firm, found: Iterable[tuple[Treatment, Collection[Term]]]) -> None:
    """Treatments that are found by none of these terms yet are found by them; many of them at once."""
    found = list(found)
    ids = _ids(firm, {term for _treatment, terms in found for term in terms})
    rows = {name: RegisterTerm(pk=pk, firm=firm) for name, pk in ids.items()}
    TreatmentTerm.objects.bulk_create(
        TreatmentTerm(
            firm=firm,
            term=rows[term.kind, term.folded],
            treatment=treatment,
            day=treatment.day,
        )
        for treatment, terms in found
        for term in terms
    )


def _ids(firm: Firm, terms: Collection[Term]) -> dict[_Named, int]:
    """The ids of these terms, which are made where they are not there."""
    known = _known(firm, terms)
    if missing := [term for term in terms if (term.kind, term.folded) not in known]:
        made = (RegisterTerm(firm=firm, **term._asdict()) for term in missing)
        RegisterTerm.objects.bulk_create(made, ignore_conflicts=True)
        known |= _known(firm, missing)
    return known


def _known(firm: Firm, terms: Collection[Term]) -> dict[_Named, int]:
    known: dict[_Named, int] = {}
    for some in batched(sorted(terms)):
        rows = RegisterTerm.objects.for_firm(firm).filter(
            kind__in={term.kind for term in some}, folded__in={term.folded for term in some}
        )
        known |= {(kind, folded): pk for pk, kind, folded in rows.values_list("pk", "kind", "folded")}
    return known
