"""How the figures of a periodic report are worked out, as its rule states it. Pure."""

from dataclasses import dataclass
from fractions import Fraction

from compliance.rulebook.errors import RuleError
from compliance.rulebook.reading import Params, as_text, as_yes_no, each, one_of, quantity
from shared.quantities import UNITS

BY = ("product", "site", "county", "day", "address", "place", "started")
"""What a line may stand for: `site` is what the place is used for with the surfaces, `place` its name."""
KINDS = ("pesticide", "adjuvant")
USES = ("residence", "multiple-dwelling", "business", "school", "day-care", "hospital", "public", "industrial")
BY_DENSITY = "density"
_UNITS = [name for name, unit in UNITS.items() if unit.dimension in ("volume", "mass")]


@dataclass(frozen=True)
class ReportForm:
    """`by`: what each line stands for. `units`: one for volumes and one for masses, or one for all; then
    `litre` is what a litre of product counts as, in kg, and None means by the density of its label.

    `per_county`: each county gets a report of its own. `kinds` of products count, at sites of these `uses`
    (all, if there are none).
    """

    by: tuple[str, ...] = ("product",)
    units: tuple[str, ...] = ("gal", "lb")
    litre: Fraction | None = None
    per_county: bool = False
    kinds: tuple[str, ...] = ("pesticide",)
    uses: tuple[str, ...] = ()
    applications: bool = False

    def unit_of(self, dimension: str) -> str | None:
        """The unit in which an amount of this dimension is told; None where it becomes one of the other."""
        return next((unit for unit in self.units if UNITS[unit].dimension == dimension), None)


def read_report_form(part: Params) -> ReportForm:
    """`{by: [site, product], units: [gal, lb], per: county}`. Raises RuleError."""
    form = ReportForm(
        by=part.value("by", each(one_of(BY))),
        units=part.value("units", _units),
        litre=part.maybe("litre", _litre),
        per_county=part.maybe("per", one_of(("county",))) is not None,
        kinds=part.maybe("kinds", each(one_of(KINDS))) or ("pesticide",),
        uses=part.maybe("uses", each(one_of(USES))) or (),
        applications=part.maybe("applications", as_yes_no) or False,
    )
    part.done()
    return form


def _units(raw: object) -> tuple[str, ...]:
    units = each(one_of(_UNITS))(raw)
    if len({UNITS[unit].dimension for unit in units}) != len(units):
        raise RuleError("rule/unknown_word", {"got": ", ".join(units), "allowed": "one volume, one mass"})
    return units


def _litre(raw: object) -> Fraction | None:
    """`density`, or a mass."""
    return None if as_text(raw) == BY_DENSITY else quantity("mass")(raw).base
