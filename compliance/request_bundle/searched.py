"""How the log was searched for a request, and what fits and is not in its bundle, as the letter says it."""

from collections.abc import Iterator
from typing import NamedTuple

from django.utils import translation

from compliance.models import Handing
from compliance.selectors import today_of
from compliance.services.request_matches import State, unsigned_matches
from records.forms.register_search import OF_FINDINGS, search_in
from records.services.handing_over import left_out

_TELLS = {
    "customer": {"customer"}, "site": {"site"}, "county": {"site"}, "place": {"site"},
    "applicator": {"people"}, "licence": {"people"}, "incident": {"incidents"},
    "wind_least": {"weather"}, "wind_most": {"weather"}, "words": {"customer", "site", "people"},
}  # fmt: skip
"""Of which sections a box of the search tells."""
TOLD_OF = frozenset().union(*_TELLS.values())
"""The sections of which a search may tell."""


class Unsigned(NamedTuple):
    """How many treatments fit that nobody signed up to today, and how many came from older records."""

    drafts: int
    brought_in: int


def searched(handing: Handing) -> Iterator[tuple[str, str]]:
    """The boxes of the search and what is in them, in the language of the letter; nothing is in those that tell
    of what is left out, or of findings that are not handed over."""
    withheld = left_out(handing.withheld)
    with translation.override(handing.language):
        search = search_in(handing.firm, handing.request.wanted, findings=True)
        for name, (box, written) in zip(search.wanted().as_json(), search.said(), strict=True):
            is_told = not _TELLS.get(name, set()) & withheld and (handing.findings or name not in OF_FINDINGS)
            yield box, written if is_told else ""


def unsigned(handing: Handing) -> Unsigned:
    """What is planned for a later day is no treatment yet."""
    found = unsigned_matches(handing.request)
    drafts = found.filter(state=State.DRAFT, day__lte=today_of(handing.firm))
    return Unsigned(drafts.count(), found.filter(state=State.BROUGHT_IN).count())
