"""A computed amount that can say how it was computed, or why it could not be."""

from collections.abc import Iterable
from fractions import Fraction

from shared.quantities import UNITS, Quantity, from_fraction
from shared.values import Value
from shared.wording import Blanks, Catalogue, Sayable, Wording, say

WORDINGS: Catalogue = {
    "amount/sum": Wording("{parts}", "{parts}"),
    "amount/sum_without_dry": Wording(
        "{parts}; the volume of the dry product is left out",
        "{parts}; no se cuenta el volumen del producto seco",
    ),
    "amount/share_of_applied": Wording(
        "{amount} × {applied} applied / {mixed} mixed", "{amount} × {applied} aplicados / {mixed} mezclados"
    ),
    "amount/per_area": Wording("{amount} on {area}", "{amount} en {area}"),
    "amount/strength": Wording("{amount} in {mixed} of mix", "{amount} en {mixed} de mezcla"),
    "amount/missing": Wording("needs {paths}", "hace falta {paths}"),
    "amount/do_not_meet": Wording(
        "{one} and {other} cannot be set against each other", "{one} y {other} no se pueden comparar"
    ),
    "amount/nothing_mixed": Wording("nothing was mixed", "no se mezcló nada"),
}


class Amount(Value, frozen=True):
    """A computed amount: `exact` in `unit`, and how it was computed."""

    exact: Fraction
    unit: str
    wording: str
    blanks: Blanks

    @property
    def dimension(self) -> str:
        """The dimension's name, as in the unit table."""
        return UNITS[self.unit].dimension

    @property
    def base(self) -> Fraction:
        """The exact amount in the base unit of its dimension."""
        return self.exact * UNITS[self.unit].factor

    @property
    def base_ratio(self) -> tuple[int, int]:
        """`base` as numerator and denominator, not reduced: what a quotient needs, at less cost."""
        (above, below), (times, over) = self.exact.as_integer_ratio(), UNITS[self.unit].ratio
        return above * times, below * over

    @property
    def quantity(self) -> Quantity:
        """The amount at six significant digits. Raises QuantityError where it is too large to be written."""
        return from_fraction(self.exact, self.unit)

    def say(self, language: str) -> str:
        """The amount as a person reads it: `1.4 gal`."""
        return self.quantity.say(language)

    def how(self, language: str) -> str:
        """How it was computed: `1.5 gal × 14 gal applied / 15 gal mixed`."""
        return say(WORDINGS, self.wording, self.blanks, language)


class NoAmount(Value, frozen=True):
    """Why there is no amount; `paths` are the members that are missing or do not go together."""

    paths: tuple[str, ...]
    wording: str
    blanks: Blanks

    @property
    def is_missing(self) -> bool:
        """Whether members are not there, rather than there and not fit for each other."""
        return self.wording == "amount/missing"

    def say(self, language: str) -> str:
        """The reason in words: `needs mixes[0].applied`."""
        return say(WORDINGS, self.wording, self.blanks, language)


class Sum(Value, frozen=True):
    """Parts that are added, said with plus signs."""

    parts: tuple[Sayable, ...]

    def say(self, language: str) -> str:
        """`1.5 gal + 13.5 gal`."""
        return " + ".join(part.say(language) for part in self.parts)


def missing(paths: Iterable[str]) -> NoAmount:
    """No amount, because these members are not there."""
    named = tuple(paths)
    return NoAmount(named, "amount/missing", {"paths": ", ".join(named)})


def do_not_meet(path: str, one: Sayable, other: Sayable) -> NoAmount:
    """No amount, because one is a volume and the other a weight."""
    return NoAmount((path,), "amount/do_not_meet", {"one": one, "other": other})
