"""What can be wrong with a quantity, in words."""

from shared.quantities.units import UNITS, units_of
from shared.quantities.wordings import DIMENSIONS, WORDINGS
from shared.wording import Blanks, Sayable, Wording, say, shortened


class QuantityError(ValueError):
    """A quantity that cannot be read, made or converted; says why in every language."""

    def __init__(self, wording_id: str, blanks: Blanks) -> None:
        super().__init__(wording_id)
        self.wording_id = wording_id
        self.blanks = dict(blanks)

    def say(self, language: str) -> str:
        """The sentence for a person, e.g. `expected an area, got 3000 gal`."""
        return say(WORDINGS, self.wording_id, self.blanks, language)

    def __str__(self) -> str:
        return self.say("en")


def wrong_dimension(got: Sayable, unit: str, dimensions: tuple[str, ...]) -> QuantityError:
    """The error for a quantity in a known unit of another dimension than those expected."""
    ounces_for_volume = unit == "oz" and "volume" in dimensions and "mass" not in dimensions
    wording_id = "quantity/weight_not_volume" if ounces_for_volume else "quantity/wrong_dimension"
    return QuantityError(wording_id, {"expected": expected(dimensions), "got": got})


def unknown_unit(unit: str, dimensions: tuple[str, ...], labelled: bool = False) -> QuantityError:
    """The error for a unit that is not in the table; lists the units that would do, by name or by label."""
    return _needs_unit("quantity/unknown_unit", {"unit": shortened(unit)}, dimensions, labelled)


def no_unit(text: str, dimensions: tuple[str, ...]) -> QuantityError:
    """The error for a number that a person typed without a unit; lists the units that would do by label."""
    return _needs_unit("quantity/no_unit", {"text": shortened(text)}, dimensions, labelled=True)


def _needs_unit(
    wording_id: str, blanks: dict[str, str], dimensions: tuple[str, ...], labelled: bool
) -> QuantityError:
    if not dimensions:
        return QuantityError(f"{wording_id}_anywhere", blanks)
    names = [name for dimension in dimensions for name in units_of(dimension)]
    units = _labels(names) if labelled else ", ".join(names)
    return QuantityError(wording_id, {**blanks, "expected": expected(dimensions), "units": units})


def _labels(names: list[str]) -> Wording:
    en, es = (", ".join(dict.fromkeys(UNITS[name].label(to) for name in names)) for to in ("en", "es"))
    return Wording(en, es)


def expected(dimensions: tuple[str, ...]) -> Wording:
    """`an area`, or `an area or a volume`."""
    wordings = [DIMENSIONS[dimension] for dimension in dimensions]
    return Wording(
        en=" or ".join(wording.en for wording in wordings),
        es=" o ".join(wording.es for wording in wordings),
    )
