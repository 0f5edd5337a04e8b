"""How papers say dates, times, quantities, directions and addresses in one language, at one place."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from zoneinfo import ZoneInfo

from babel.dates import format_date

from records.document.types import Address, Site, TreatmentDocument
from records.document.words import label
from shared.quantities import Quantity, QuantityError, from_fraction
from shared.times import changes_clock, read_time, read_zone, said_offset
from shared.wording import Catalogue, Wording, fill

_LOCALES = {"en": "en_US", "es": "es_US"}
_DIGITS_OF_A_CONVERSION = 3
_DEGREES_OF_A_POINT = Fraction(45, 2)

US_CUSTOMARY = {
    "km/h": "mph",
    "km/hour": "mph",
    "m/s": "mph",
    "knot": "mph",
    "degC": "degF",
    "m**2": "ft**2",
    "ha": "acre",
    "L": "gal",
    "mL": "fl_oz",
    "kg": "lb",
    "g": "oz",
    "m": "ft",
    "cm": "inch",
    "mm": "inch",
    "km": "mi",
    "kPa": "psi",
    "bar": "psi",
    "L/min": "gal/min",
}
"""The unit in which United States records are read, for each unit that a crew may have entered instead."""

COMPASS: tuple[Wording, ...] = (
    Wording("north", "norte"),
    Wording("north-northeast", "nornoreste"),
    Wording("northeast", "noreste"),
    Wording("east-northeast", "estenoreste"),
    Wording("east", "este"),
    Wording("east-southeast", "estesureste"),
    Wording("southeast", "sureste"),
    Wording("south-southeast", "sursureste"),
    Wording("south", "sur"),
    Wording("south-southwest", "sursuroeste"),
    Wording("southwest", "suroeste"),
    Wording("west-southwest", "oestesuroeste"),
    Wording("west", "oeste"),
    Wording("west-northwest", "oestenoroeste"),
    Wording("northwest", "noroeste"),
    Wording("north-northwest", "nornoroeste"),
)
"""The sixteen points, clockwise from north, 22.5 degrees apart."""


@dataclass(frozen=True)
class Speech:
    """One language at one place: its catalogue, time zone, customary units and the day written about.

    Times on another day than `day` are said with their date, and with their offset where the zone is not
    known or changes its clocks on their day. `withheld` names the sections that the copy leaves out.
    """

    language: str
    catalogue: Catalogue
    zone: ZoneInfo | None = None
    day: date | None = None
    customary: bool = True
    withheld: frozenset[str] = frozenset()

    def word(self, wording_id: str, **blanks: str) -> str:
        """The catalogue's phrase for this id, blanks filled."""
        return fill(self.catalogue[wording_id], blanks, self.language)

    def missing(self, section: str) -> str:
        """What stands where something of this section would stand: it was not recorded, or is withheld."""
        return self.word("head/withheld" if section in self.withheld else "head/not-recorded")

    def listed(self, list_name: str, word: str | None) -> str:
        """A word of one of the document's closed lists, as a person says it."""
        return label(list_name, word, self.language) if word else ""

    def all_listed(self, list_name: str, words: Iterable[str] | None) -> str:
        """Several words of one closed list."""
        return joined(self.listed(list_name, word) for word in words or ())

    def quantity(self, quantity: Quantity | None) -> str:
        """As entered, with the place's customary unit in brackets where another was entered."""
        if quantity is None:
            return ""
        said = quantity.say(self.language)
        other = US_CUSTOMARY.get(quantity.unit) if self.customary else None
        converted = _written(quantity.to(other), other, _DIGITS_OF_A_CONVERSION) if other else None
        return f"{said} ({converted.say(self.language)})" if converted else said

    def computed(self, value: Fraction, unit: str, digits: int) -> str:
        """A computed value at so many significant digits; nothing where no quantity can hold it."""
        return self.quantity(_written(value, unit, digits))

    def local(self, time: str) -> datetime:
        """An RFC 3339 time in the place's zone, or in its own offset where no zone is known."""
        return _at(self.zone, time)

    def long_date(self, day: date | str | None) -> str:
        """A day in words; `day` may be ISO text."""
        if not day:
            return ""
        read = date.fromisoformat(day) if isinstance(day, str) else day
        return str(format_date(read, "long", locale=_LOCALES[self.language]))

    def short_date(self, day: date | str | None) -> str:
        """A day with its month abbreviated, for tables."""
        if not day:
            return ""
        read = date.fromisoformat(day) if isinstance(day, str) else day
        return str(format_date(read, "medium", locale=_LOCALES[self.language]))

    def time(self, time: str | None) -> str:
        """The time of day by the 24-hour clock, as the pages say it; with its date if that is not the day
        written about."""
        if not time:
            return ""
        moment = self.local(time)
        said = self._clock(moment) if moment.date() == self.day else self._dated(moment)
        if self.zone and not changes_clock(moment.date(), self.zone):
            return said
        return f"{said} {said_offset(moment)}"

    def _dated(self, moment: datetime) -> str:
        return f"{self.short_date(moment.date())}, {self._clock(moment)}"

    def _clock(self, moment: datetime) -> str:
        return f"{moment:%H:%M:%S}" if moment.second else f"{moment:%H:%M}"

    def moment(self, time: str | None) -> str:
        """Date, time and offset from UTC in full, for signatures."""
        if not time:
            return ""
        offset = self.local(time).strftime("%z")
        return f"{self._dated(self.local(time))} (UTC{offset[:3]}:{offset[3:]})"

    def direction(self, angle: Quantity | None) -> str:
        """A compass word and degrees: `southwest (225°)`."""
        if angle is None:
            return ""
        point = int(angle.exact / _DEGREES_OF_A_POINT + Fraction(1, 2)) % len(COMPASS)
        return f"{COMPASS[point].say(self.language)} ({angle.say(self.language)})"


def speech_for(
    document: TreatmentDocument, language: str, catalogue: Catalogue, withheld: Iterable[str] = ()
) -> Speech:
    """The speech for a document: its site's time zone and country, the day of the treatment."""
    place, timing = document.site, document.timing
    zone = read_zone(place.time_zone) if place and place.time_zone else None
    first = timing and (timing.started_at or timing.planned_at)
    day = _at(zone, first).date() if first else None
    return Speech(language, catalogue, zone, day, _reads_us_customary(place), frozenset(withheld))


def _written(value: Fraction, unit: str, digits: int) -> Quantity | None:
    """The value as a quantity; None where it is too large or too small to be written as one."""
    try:
        return from_fraction(value, unit, digits)
    except QuantityError:
        return None


def _at(zone: ZoneInfo | None, time: str) -> datetime:
    """A time in a zone; in its own offset where there is no zone, or no such time in it (year 1 or 9999)."""
    moment = read_time(time)
    try:
        return moment.astimezone(zone) if zone else moment
    except OverflowError:
        return moment


def _reads_us_customary(place: Site | None) -> bool:
    return bool(place and place.jurisdictions and place.jurisdictions[0].split("-")[0] == "us")


def address_line(address: Address | None) -> str:
    """A postal address on one line."""
    if address is None:
        return ""
    town = joined((address.city, joined((address.region, address.postcode), " ")))
    return joined((address.line1, address.line2, town, address.country))


def joined(parts: Iterable[str | None], separator: str = ", ") -> str:
    """The parts that say something, in order."""
    return separator.join(part for part in parts if part)
