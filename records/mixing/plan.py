"""Planning a mix: finished mix, product, diluent, tank loads and spraying time."""

from dataclasses import dataclass
from fractions import Fraction

from records.mixing.dilution import Dilution, read_dilution
from records.mixing.errors import MixError
from records.mixing.wordings import Sentence
from shared.quantities import Quantity, QuantityError, from_base, of_dimension, parse
from shared.wording import Blank

MOST_LOADS = 1000


@dataclass(frozen=True)
class Load:
    """One filling of the tank."""

    product: Quantity
    diluent: Quantity
    volume: Quantity

    def as_json(self) -> dict[str, dict[str, str]]:
        """The load as quantities."""
        return {
            "product": self.product.as_json(),
            "diluent": self.diluent.as_json(),
            "volume": self.volume.as_json(),
        }


@dataclass(frozen=True)
class MixPlan:
    """What to put together for one treatment; every quantity to six significant digits.

    Volumes are in the tank's unit (without a tank in that of the coverage), `product` in the dilution's
    (where it names none, in the unit of the volumes), `spray_time` in minutes (None without a flow).
    `loads` are the full ones and then the last part load; none without a tank.
    """

    finished_mix: Quantity
    product: Quantity
    diluent: Quantity
    loads: tuple[Load, ...]
    spray_time: Quantity | None
    basis: Sentence
    notes: tuple[Sentence, ...]

    def as_json(self, language: str = "en") -> dict[str, object]:
        """The plan as quantities, with `basis` and `notes` said in `language`."""
        return {
            "finished_mix": self.finished_mix.as_json(),
            "product": self.product.as_json(),
            "diluent": self.diluent.as_json(),
            "loads": [load.as_json() for load in self.loads],
            "spray_time": self.spray_time.as_json() if self.spray_time else None,
            "basis": self.basis.say(language),
            "notes": [note.say(language) for note in self.notes],
        }


@dataclass(frozen=True)
class _Recipe:
    """The whole mix, exactly: litres of mix and diluent, litres or kilograms of product."""

    mix: Fraction
    product: Fraction
    diluent: Fraction
    volume_unit: str
    product_unit: str

    def part(self, litres: Fraction) -> Load:
        """The part of the recipe that makes this much finished mix."""
        share = litres / self.mix
        return Load(
            product=from_base(self.product * share, self.product_unit),
            diluent=from_base(self.diluent * share, self.volume_unit),
            volume=from_base(litres, self.volume_unit),
        )


def plan_mix(
    area: Quantity | str,
    coverage: Quantity | str,
    dilution: Dilution | str,
    tank: Quantity | str | None = None,
    flow: Quantity | str | None = None,
    density: Quantity | str | None = None,
) -> MixPlan:
    """The plan for a treated area at a coverage (finished mix per area) and a dilution.

    `density` is the product's; only a percent by weight asks for it.
    Text is read as a person types it. Exact inside. Raises MixError, which names the field at fault.

    Sources of the arithmetic: product per tank = tank x rate per volume (Texas A&M Hort IPM, Calculating
    Dilutions and Site Size); = rate per area x tank / coverage (NC State Christmas Tree program, Backpack
    Sprayer Calibration Worksheet).
    """
    treated = _positive("area", area, "area")
    covered = _positive("coverage", coverage, "volume_per_area")
    heavy = _positive("density", density, "density") if density is not None else None
    drawn = read_dilution(dilution, heavy) if isinstance(dilution, str) else dilution
    filled = _positive("tank", tank, "volume") if tank is not None else None
    pumped = _positive("flow", flow, "flow") if flow is not None else None
    volume_unit = filled.unit if filled else covered.unit.partition("/")[0]
    try:
        recipe = _recipe(treated, covered, drawn, volume_unit)
        whole = recipe.part(recipe.mix)
        return MixPlan(
            finished_mix=whole.volume,
            product=whole.product,
            diluent=whole.diluent,
            loads=_loads(recipe, filled) if filled else (),
            spray_time=from_base(recipe.mix / pumped.base, "min") if pumped else None,
            basis=drawn.basis,
            notes=_notes(drawn, filled),
        )
    except QuantityError as error:
        raise MixError.of("area", error) from error


def _positive(field: str, given: Quantity | str, dimension: str) -> Quantity:
    try:
        quantity = parse(given, dimension) if isinstance(given, str) else of_dimension(given, dimension)
    except QuantityError as error:
        raise MixError.of(field, error) from error
    if not quantity.exact:
        raise MixError(field, "mix/must_be_above_zero", {"got": quantity})
    return quantity


def _recipe(area: Quantity, coverage: Quantity, dilution: Dilution, volume_unit: str) -> _Recipe:
    mix = area.base * coverage.base
    product = dilution.per_litre * mix + dilution.per_square_metre * area.base
    product_unit = dilution.unit or volume_unit
    if not from_base(mix, volume_unit).exact:
        raise MixError("area", "mix/too_little_mix", {})
    stated = from_base(product, product_unit)
    if not stated.exact:
        raise MixError("dilution", "mix/too_little_product", {"text": dilution.text})
    if dilution.by_mass:
        return _Recipe(mix, product, mix, volume_unit, product_unit)
    if product > mix:
        blanks: dict[str, Blank] = {"text": dilution.text, "product": stated}
        blanks["mix"] = from_base(mix, volume_unit)
        raise MixError("dilution", "mix/more_product_than_mix", blanks)
    return _Recipe(mix, product, mix - product, volume_unit, product_unit)


def _loads(recipe: _Recipe, tank: Quantity) -> tuple[Load, ...]:
    full, rest = divmod(recipe.mix, tank.base)
    if full + bool(rest) > MOST_LOADS:
        blanks: dict[str, Blank] = {"tank": tank, "most": str(MOST_LOADS)}
        blanks["mix"] = from_base(recipe.mix, tank.unit)
        raise MixError("tank", "mix/too_many_loads", blanks)
    loads = (recipe.part(tank.base),) * full
    return (*loads, recipe.part(rest)) if rest else loads


def _notes(dilution: Dilution, tank: Quantity | None) -> tuple[Sentence, ...]:
    no_tank = () if tank else (Sentence("mix/note_no_tank"),)
    return (*dilution.notes, *no_tank, Sentence("mix/note_label"))
