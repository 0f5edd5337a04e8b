"""Distances of a site's neighbours, worked out from the shapes of the grounds."""

from shapely.geometry.base import BaseGeometry

from records.ground import ground_of, said_length, shape_of
from records.models import Neighbour, Parcel, Site
from shared.geodesy import Relation, relations
from shared.streets import house_of

Known = Neighbour.Known


def join_parcels(site: Site) -> None:
    """Neighbours without a parcel get the one of their address."""
    parcels = Parcel.objects.for_firm(site.firm).filter(site=site, own=False).exclude(line1="")
    by_house = {house: each for each in parcels if (house := house_of(each.line1, each.line2))}
    for row in Neighbour.objects.for_firm(site.firm).filter(site=site, parcel=None).exclude(line1=""):
        row.parcel = by_house.get(house_of(row.line1, row.line2))
        if row.parcel:
            row.save(update_fields=["parcel"])


def measure(site: Site) -> None:
    """Work out distance and abutting of all who have a parcel; what was entered for others stays."""
    ground = ground_of(site)
    rows = Neighbour.objects.for_firm(site.firm).filter(site=site, parcel__isnull=False)
    rows = list(rows.select_related("parcel")) if ground is not None else []
    found = relations(ground, [shape_of(each.parcel) for each in rows])
    for row, lies in zip(rows, found, strict=True):
        write(row, lies, site, ground)
        row.save()


def write(row: Neighbour, lies: Relation, site: Site, ground: BaseGeometry) -> None:
    """How it lies, into the row. Whether it abuts stays as it was said where a position can't tell."""
    row.distance = said_length(lies.distance, site.country)
    row.abutting = row.abutting if lies.abutting is None else lies.abutting
    row.touches_at_corner = lies.touches_at_corner
    row.known_by = Known.PARCELS if ground.area else Known.POSITION
