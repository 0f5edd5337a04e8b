"""Where and how much: site, surfaces with planned and treated area, what had to be protected."""

from fractions import Fraction

from compliance.papers.parts import asked, grid, known, listed
from compliance.papers.speech import Speech, address_line, joined
from records.document.types import Surface, TreatmentDocument
from shared.geometry import slope_factor
from shared.paper import Block, Column, Fact, Facts, Row, Section

_DIGITS = 4
_DIGITS_OF_A_SUM = 6


def site(document: TreatmentDocument, speech: Speech) -> Section:
    """The place treated, its use, the pest, permits, total area, and each surface."""
    place, treated = document.site, document.record.result != "stood-down"
    facts = (
        asked(speech, "place/site-name", place.name if place else "", span=4, section="site"),
        asked(
            speech,
            "place/site-address" if treated else "work/address",
            address_line(place.address) if place else "",
            _whereabouts(document, speech),
            span=7,
            section="site",
        ),
        asked(speech, "place/use", _use(document, speech), span=4, section="site"),
        *_area(treated, total_treated(document, speech), speech),
        asked(
            speech,
            "place/targets",
            listed(speech, document.targets, speech.all_listed("target", document.targets), section="targets"),
            _permits(document, speech),
            span=3,
        ),
    )
    blocks: list[Block] = [Facts(facts, columns=21)]
    if document.surfaces:
        rows = [_surface_row(surface, speech) for surface in document.surfaces]
        blocks.append(grid(speech, _SURFACE_COLUMNS if treated else _PLANNED_COLUMNS, rows))
    return Section(speech.word("place/site"), tuple(blocks))


_SURFACE_COLUMNS = (
    Column("place/surface", 6),
    Column("place/kind", 3),
    Column("place/material", 5),
    Column("place/plan-area", 4, numeric=True),
    Column("place/pitch", 3, numeric=True),
    Column("place/slope-area", 5, numeric=True),
    Column("place/treated-area", 5, numeric=True),
)


_PLANNED_COLUMNS = (*_SURFACE_COLUMNS[:-1], Column("place/planned-area", 5, numeric=True))


def _area(treated: bool, total: str, speech: Speech) -> tuple[Fact, ...]:
    """The total area; of a treatment that did not happen it was planned at most."""
    if not treated:
        hidden = speech.missing("surfaces") if "surfaces" in speech.withheld else ""
        return known(speech, "place/planned-area", total or hidden, span=3)
    return (asked(speech, "place/total-area", total, span=3, section="surfaces"),)


def _use(document: TreatmentDocument, speech: Speech) -> str:
    if document.site is None:
        return ""
    indoors = {None: "", True: "place/indoors", False: "place/outdoors"}[document.site.indoors]
    return joined((speech.listed("site_use", document.site.use), indoors and speech.word(indoors)))


def _whereabouts(document: TreatmentDocument, speech: Speech) -> str:
    place = document.site
    if place is None:
        return ""
    law = joined((one.upper() for one in place.jurisdictions or ()), " › ")
    position = joined((place.position.latitude, place.position.longitude)) if place.position else ""
    return joined((place.county, law, position), "; ")


def _permits(document: TreatmentDocument, speech: Speech) -> str:
    permits = document.permits
    said = [joined((one.number, one.authority and one.authority.upper()), " ") for one in permits or ()]
    listing = listed(speech, permits, joined(said), "place/no-permits", "permits")
    return speech.word("place/permits", list=listing)


def total_treated(document: TreatmentDocument, speech: Speech) -> str:
    """The treated areas added, in the first one's unit; nothing where one is missing."""
    areas = [surface.treated_area for surface in document.surfaces or ()]
    there = [area for area in areas if area]
    if not there or len(there) < len(areas):
        return ""
    if len(there) == 1:
        return speech.quantity(there[0])
    unit = there[0].unit
    return speech.computed(sum((area.to(unit) for area in there), Fraction(0)), unit, _DIGITS_OF_A_SUM)


def _surface_row(surface: Surface, speech: Speech) -> Row:
    cells = (
        surface.name or "",
        speech.listed("surface_kind", surface.kind),
        surface.material or "",
        speech.quantity(surface.plan_area),
        f"{surface.pitch.rise}:{surface.pitch.run}" if surface.pitch else "",
        _slope_area(surface, speech),
        speech.quantity(surface.treated_area) or speech.word("head/not-recorded"),
    )
    return Row(cells)


def _slope_area(surface: Surface, speech: Speech) -> str:
    """Plan area stretched by the pitch, in the plan area's unit; nothing without both."""
    pitch = surface.pitch
    if surface.plan_area is None or pitch is None or pitch.rise is None or pitch.run is None:
        return ""
    if not Fraction(pitch.run):
        return ""
    stretched = surface.plan_area.exact * slope_factor(Fraction(pitch.rise), Fraction(pitch.run))
    return speech.computed(stretched, surface.plan_area.unit, _DIGITS)
