"""The facts that the cover letter tells, of a handing whose records are all in."""

from collections import Counter
from uuid import UUID
from zoneinfo import ZoneInfo

from compliance.models import Handing
from compliance.papers import cover
from compliance.papers.speech import joined
from compliance.request_bundle.changes import FOLLOW_UP, GONE, NEW, VERSION
from compliance.request_bundle.index_lines import IndexLines
from compliance.request_bundle.notices_given import NEEDS
from compliance.request_bundle.searched import searched, unsigned
from compliance.request_bundle.still_named import holds
from compliance.services.request_matches import fits_no_more
from compliance.services.request_since import late_among, signed_since
from records.bundle.photos import PLACE
from records.document.member_labels import member_label
from records.models import Erasure, Firm, SignedFollowUp, SignedRecord, TreeHead
from records.services.handing_over import left_out

MOST_NAMED = 12


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
    first, last = index.span()
    said = {name: "" if holds(names, getattr(request, name)) else getattr(request, name)
            for name in ("contact", "reference", "asked_for")}  # fmt: skip
    handed = cover.Handed(
        at=handing.at.astimezone(zone), erased=_erased(handing),
        firm=firm.name, address=_address(firm), day=handing.at.astimezone(zone).date(), to=handing.to,
        received=request.received_at.astimezone(zone), means=request.means, paragraph=request.paragraph,
        treatments=len(handing.treatments), versions=len(index), first=first, last=last, replaced=replaced,
        sheets=tuple(handing.sheets), photos=_photos(handing, places), findings="findings" in places,
        no_notices=bool(NEEDS & left_out(handing.withheld)),
        withheld=_in_words(handing.withheld, handing.language), late=_late(handing),
        since=_since(handing, changed), log_size=head.size, log_root=head.head["root"], by=handing.by.name,
        places=places, searched=tuple(searched(handing)), **unsigned(handing)._asdict(), **said,
    )  # fmt: skip
    return cover.build(handed, handing.language, firm.paper)


def _erased(handing: Handing) -> int:
    """How many records have lost what they said of people by now."""
    return Erasure.objects.for_firm(handing.firm).filter(at__lte=handing.at).count()


def _photos(handing: Handing, places: tuple[str, ...]) -> str:
    """Whether photos are in it, else why not."""
    if "photos" in places:
        return "photos"
    if not handing.photos:
        return "photos-not-asked"
    return "photos-withheld" if PLACE & left_out(handing.withheld) else "photos-none"


def _late(handing: Handing) -> tuple[cover.Late, ...]:
    """Those in it that were signed after the request came, the first of each kind by name."""
    request, zone = handing.request, ZoneInfo(handing.firm.time_zone)
    treatments = late_among(request, [UUID(each) for each in handing.treatments])
    since = signed_since(request, treatments).up_to(handing.log_size or 0)
    no_more = fits_no_more(request)

    def of_version(each: SignedRecord) -> cover.Signed:
        of, at = each.treatment, each.received_at.astimezone(zone)
        fits = of.pk not in no_more
        return cover.Signed(of.number, each.version, at, each.kind, each.reason, fits_still=fits)

    def of_follow_up(each: SignedFollowUp) -> cover.Signed:
        of, at = each.follows, each.received_at.astimezone(zone)
        return cover.Signed(of.treatment.number, of.version, at, each.kind)

    found = (
        ("corrected", since.corrected, of_version),
        ("signed-late", since.first, of_version),
        ("followed", since.followed, of_follow_up),
    )
    return tuple(
        cover.Late(what, tuple(map(said, rows[:MOST_NAMED])), max(0, count - MOST_NAMED))  # type: ignore[operator]
        for what, rows, said in found
        if (count := rows.count())
    )


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
