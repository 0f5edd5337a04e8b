"""What a file of people or parcels would change: worked out first, and written, if at all, in a moment."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from records.models import Firm, Neighbour, Parcel, RegisteredPerson

AT_ONCE = 500
Row = Parcel | Neighbour | RegisteredPerson


@dataclass
class Outcome:
    """What a file does; rows by their address, for a person to look at."""

    new: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    listed: list[str] = field(default_factory=list)
    """Of parcels: who becomes a neighbour by it."""
    own: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)
    """Those that are too far off for anybody there to be listed."""
    gone: list[str] = field(default_factory=list)
    same: int = 0


@dataclass
class Planned:
    """Rows that are new or differ, and rows that are gone."""

    outcome: Outcome = field(default_factory=Outcome)
    kept: dict[Any, Row] = field(default_factory=dict)
    gone: list[Row] = field(default_factory=list)

    def keep(self, *rows: Row) -> None:
        self.kept |= {row.pk: row for row in rows}


def as_placed(row: Neighbour) -> tuple[Any, ...]:
    """What parcels say of a neighbour."""
    return (row.parcel_id, row.distance, row.abutting, row.touches_at_corner, row.known_by)


def people_of(firm: Firm, site: Any, parcels: Iterable[Parcel]) -> list[Neighbour]:
    """All of the site's neighbours with their parcel, if it is among these."""
    by_key = {each.pk: each for each in parcels}
    rows = list(Neighbour.objects.for_firm(firm).filter(site=site).select_related("file"))
    for row in rows:
        row.parcel = by_key.get(row.parcel_id)
    return rows


def write_planned(planned: Planned, firm: Firm) -> None:
    """Take out what is gone, put in what is new or differs; parcels first, for neighbours point to them."""
    for model in (Neighbour, Parcel, RegisteredPerson):
        gone = [row.pk for row in planned.gone if isinstance(row, model)]
        for begin in range(0, len(gone), AT_ONCE):
            model.objects.for_firm(firm).filter(pk__in=gone[begin : begin + AT_ONCE]).delete()
    for model in (Parcel, Neighbour, RegisteredPerson):
        names = [each.name for each in model._meta.concrete_fields if not each.primary_key]
        rows = [row for row in planned.kept.values() if isinstance(row, model)]
        known = {"update_conflicts": True, "unique_fields": ["uuid"], "update_fields": names}
        model.objects.bulk_create(rows, batch_size=AT_ONCE, **known)
