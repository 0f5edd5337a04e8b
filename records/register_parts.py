"""What a search of the register asks of the names of a treatment: each part with the terms that are so."""

from collections.abc import Iterable, Iterator, Sequence
from functools import reduce
from operator import and_

from django.db.models import Q

from records.models import Firm, RegisterTerm
from records.register import terms
from records.register.fitting import EXACT, NAMES, is_of_number, number_asked
from records.register.wanted import RegisterFilter
from shared.folded import sought

MOST_TERMS = 200
"""So many terms at most are asked for one by one; a word that is in more is in very many treatments."""

Part = tuple[Q, Sequence[int] | None]
"""What the names must be, and the terms that are so; None for too many to list."""


def parts_of(firm: Firm, wanted: RegisterFilter) -> Iterator[Part]:
    """All words of one box in one name; in the last box in any names. A registration number is found however
    it was written."""
    for member, kinds in NAMES.items():
        if typed := getattr(wanted, member):
            words = [Q(folded__contains=word) for word in terms.compared(typed).split()]
            yield _numbered(firm, member, typed) or _part(firm, kinds, words)
    for member, kinds in EXACT.items():
        if typed := getattr(wanted, member):
            yield _part(firm, kinds, [Q(folded=terms.compared(typed))])
    if numbered := _numbered(firm, "words", wanted.words):
        yield numbered
        return
    for word in sought(wanted.words).split():
        yield _part(firm, terms.IN_WORDS, [Q(folded__contains=word)])


def _numbered(firm: Firm, member: str, typed: str) -> Part | None:
    """A firm has few registration numbers: all are looked at."""
    number = number_asked(member, typed)
    if number is None:
        return None
    known = RegisterTerm.objects.for_firm(firm).filter(kind=terms.REGISTRATION).values_list("pk", "written")
    ids = [pk for pk, written in known if is_of_number(number, written)]
    return Q(pk__in=ids), ids if len(ids) <= MOST_TERMS else None


def _part(firm: Firm, kinds: Sequence[str], words: Iterable[Q]) -> Part:
    asked = reduce(and_, words, Q(kind__in=kinds))
    found = RegisterTerm.objects.for_firm(firm).filter(asked).values_list("pk", flat=True)
    ids = list(found[: MOST_TERMS + 1])
    return asked, ids if len(ids) <= MOST_TERMS else None
