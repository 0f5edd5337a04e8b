"""Keep every version of a pack that is used, and say which were in use on a day."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from compliance.models import FirmPackVersion, PacksInUse, PackVersion
from compliance.pack_archive import Kept, keep
from compliance.pack_reader import registered_packs
from compliance.rulebook.pack import Pack
from records.models import Firm


class NoPacksKeptError(LookupError):
    """From that day no packs are kept; `first` is the first day of which they are (None: of no day)."""

    def __init__(self, day: date, first: date | None) -> None:
        super().__init__(day.isoformat())
        self.day = day
        self.first = first


@transaction.atomic
def note_packs_in_use() -> int:
    """Keep the registered packs, and that they are in use from now on; says how many are new."""
    packs = registered_packs()
    digests = [pack.digest for pack in packs]
    latest = PacksInUse.objects.order_by("pk").last()
    if latest is not None and latest.digests == digests:
        return 0
    new = keep_laws(packs)
    PacksInUse.objects.create(digests=digests)
    return new


def keep_laws(packs: Iterable[Pack]) -> int:
    """Keep packs of laws, those that are not yet; says how many these were."""
    kept = {pack.digest: keep(pack) for pack in packs}
    known = set(PackVersion.objects.filter(pk__in=kept).values_list("pk", flat=True))
    new = [PackVersion.of(each) for digest, each in kept.items() if digest not in known]
    for row in new:
        row.save(force_insert=True)
    return len(new)


def keep_firm_pack(firm: Firm, pack: Pack) -> None:
    """Keep the state of a firm's policy, if it is not yet."""
    if not FirmPackVersion.objects.for_firm(firm).filter(digest=pack.digest).exists():
        row = FirmPackVersion.of(keep(pack))
        row.firm = firm
        row.save(force_insert=True)


def keep_used(firm: Firm, packs: Sequence[Pack]) -> None:
    """Keep the packs by which a record of the firm was checked, and note which are in use."""
    note_packs_in_use()
    keep_laws(pack for pack in packs if pack.layer != "firm")
    for pack in packs:
        if pack.layer == "firm":
            keep_firm_pack(firm, pack)


def packs_in_use_on(day: date, zone: str) -> list[Kept]:
    """The packs of laws in use at the end of a day in a time zone. Raises NoPacksKeptError."""
    noted = PacksInUse.objects.filter(since__lt=end_of(day, zone)).order_by("since", "pk").last()
    if noted is None:
        first = PacksInUse.objects.order_by("since", "pk").first()
        raise NoPacksKeptError(day, first.since.astimezone(ZoneInfo(zone)).date() if first else None)
    rows = PackVersion.objects.in_bulk(noted.digests)
    return [rows[digest].as_kept() for digest in noted.digests]


def end_of(day: date, zone: str) -> datetime:
    """The moment at which a day ends in a time zone."""
    return datetime.combine(day + timedelta(days=1), time(), ZoneInfo(zone))


def all_kept(firm: Firm) -> list[Kept]:
    """Every pack that was ever used for a record of the firm, its own policy's states included."""
    return [row.as_kept() for row in (*PackVersion.objects.all(), *FirmPackVersion.objects.for_firm(firm))]
