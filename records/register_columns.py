"""The register as a spreadsheet shows it: what stands on the page, a column each."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from django.utils.translation import gettext as _

from records.document.words import WORD_LISTS
from records.forms.register_search import OUTCOMES
from records.models import Firm, Treatment
from shared.quantities import UNITS

Cell = str | date | Decimal | None
_PLACES = Decimal("0.001")


class Units(NamedTuple):
    """In which a firm reads sums."""

    area: str
    speed: str
    volume: str
    mass: str


US, METRIC = Units("ft**2", "mph", "gal", "lb"), Units("m**2", "m/s", "L", "kg")


@dataclass(frozen=True)
class Column:
    name: str
    of: Callable[[Treatment], Cell]


def units_of(firm: Firm) -> Units:
    """Those of the firm's country, as its paper tells."""
    return US if firm.paper == Firm.Paper.LETTER else METRIC


def columns(firm: Firm, language: str, *, findings: bool) -> list[Column]:
    """The columns with their words in this language, which are looked up at once."""
    states = {value: str(label) for value, label in Treatment.State.choices}
    results = {word: wording.say(language) for word, wording in WORD_LISTS["result"].items()}
    area, speed = units_of(firm)[:2]
    outcomes = {value: str(label) for value, label in OUTCOMES}
    of_findings = [Column(_("Outcome of the check"), lambda one: outcomes.get(one.outcome, one.outcome))]
    return [
        Column(_("Number"), lambda one: one.number),
        Column(_("Day"), lambda one: one.day),
        Column(_("Customer"), lambda one: one.customer_name),
        Column(_("Site"), lambda one: one.site_name),
        Column(_("Products"), lambda one: one.products),
        Column(_("Applicators"), lambda one: one.applicators),
        Column(_("State"), lambda one: states[one.state]),
        Column(_("Result"), lambda one: results.get(one.result, one.result)),
        *(of_findings if findings else []),
        Column(_in(_("Treated area"), area, language), lambda one: _said(one.treated_area, area)),
        Column(_in(_("Strongest wind"), speed, language), lambda one: _said(one.strongest_wind, speed)),
    ]


def as_text(cells: Sequence[Cell]) -> list[str]:
    """The cells of a row as CSV has them: days as ISO 8601 writes them, a point before decimals."""
    return ["" if cell is None else str(cell) for cell in cells]


def _in(name: str, unit: str, language: str) -> str:
    return f"{name} ({UNITS[unit].label(language)})"


def _said(base: Decimal | None, unit: str) -> Decimal | None:
    """To three places; exact factors from the base unit."""
    if base is None:
        return None
    factor = UNITS[unit].factor
    exact = base * factor.denominator / factor.numerator
    return exact.quantize(_PLACES).normalize() + Decimal(0)
