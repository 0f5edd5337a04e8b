"""The facts that the cover letter tells, of a handing whose records are all in."""

from collections import Counter
from zoneinfo import ZoneInfo

from compliance.models import Handing
from compliance.papers import cover
from compliance.papers.speech import joined
from compliance.request_bundle.changes import FOLLOW_UP, GONE, NEW, VERSION
from compliance.request_bundle.index_lines import IndexLines
from compliance.request_bundle.still_named import holds
from compliance.services.request_matches import corrected_since
from records.bundle.photos import PLACE
from records.document.member_labels import member_label
from records.models import Firm, TreeHead
from records.services.handing_over import left_out

MOST_CORRECTED = 12


def cover_letter(
    handing: Handing,
    index: IndexLines,
    replaced: int,
    changed: Counter[str],
    names: set[str],
    places: tuple[str, ...],
) -> bytes:
    """The letter as PDF. Their own words are left out where they name what is left out of the records."""
    firm, request = handing.firm, handing.request
    zone = ZoneInfo(firm.time_zone)
    head = TreeHead.objects.for_firm(firm).get(size=handing.log_size)
    corrected, more = _corrected(handing)
    first, last = index.span()
    said = {name: "" if holds(names, getattr(request, name)) else getattr(request, name)
            for name in ("contact", "reference", "asked_for")}  # fmt: skip
    handed = cover.Handed(
        firm=firm.name, address=_address(firm), day=handing.at.astimezone(zone).date(), to=handing.to,
        received=request.received_at.astimezone(zone), means=request.means, paragraph=request.paragraph,
        treatments=len(handing.treatments), versions=len(index), first=first, last=last, replaced=replaced,
        sheets=tuple(handing.sheets), photos=_photos(handing, places), findings="findings" in places,
        withheld=_in_words(handing.withheld, handing.language), corrected=corrected, corrected_more=more,
        since=_since(handing, changed), log_size=head.size, log_root=head.head["root"], by=handing.by.name,
        places=places, **said,
    )  # fmt: skip
    return cover.build(handed, handing.language, firm.paper)


def _photos(handing: Handing, places: tuple[str, ...]) -> str:
    """Whether photos are in it, else why not."""
    if "photos" in places:
        return "photos"
    if not handing.photos:
        return "photos-not-asked"
    return "photos-withheld" if PLACE & left_out(handing.withheld) else "photos-none"


def _corrected(handing: Handing) -> tuple[tuple[cover.Corrected, ...], int]:
    """Those in it that were signed after the request came, the first of them by name."""
    zone = ZoneInfo(handing.firm.time_zone)
    found = corrected_since(handing.request).filter(entry__index__lt=handing.log_size)
    told = tuple(
        cover.Corrected(each.treatment.number, each.version, each.received_at.astimezone(zone), each.reason)
        for each in found[:MOST_CORRECTED]
    )
    return told, max(0, found.count() - MOST_CORRECTED)


def _since(handing: Handing, changed: Counter[str]) -> cover.Since | None:
    before = handing.since
    if before is None:
        return None
    zone = ZoneInfo(handing.firm.time_zone)
    return cover.Since(
        before.at.astimezone(zone).date(), before.digest, _in_words(before.withheld, handing.language),
        changed[NEW], changed[VERSION], changed[FOLLOW_UP], changed[GONE],
    )  # fmt: skip


def _in_words(withheld: list[str], language: str) -> tuple[str, ...]:
    return tuple(member_label(name, language) for name in withheld)


def _address(firm: Firm) -> tuple[str, ...]:
    town = joined((firm.city, joined((firm.region, firm.postcode), " ")))
    return tuple(each for each in (firm.line1, firm.line2, town, firm.phone) if each)
