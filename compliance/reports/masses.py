"""Amounts in the unit that is asked for, and how much active ingredient is in them. Exact. Pure."""

from fractions import Fraction

from compliance.reports.wordings import WORDINGS
from compliance.rulebook.report_form import ReportForm
from records.document.computed import Amount, NoAmount
from records.document.member_labels import member_label
from records.document.types import ActiveIngredient, Product
from shared.quantities import UNITS
from shared.values import Value
from shared.wording import LANGUAGES, Wording, fill

KG_PER_LITRE_OF_A_PERCENT = Fraction(1, 100)
"""One percent of weight in volume is 10 g in a litre."""
_OF_WEIGHT, _OF_VOLUME = ("w/w", "wt/wt", "by weight", "p/p"), ("w/v", "wt/v", "p/v")
"""As labels write what a percentage is of."""


class Told(Value, frozen=True):
    """An amount in the unit in which it is told."""

    exact: Fraction
    unit: str


class Untold(Value, frozen=True):
    """Why an amount can't be told."""

    says: Wording


def told(amount: Amount | NoAmount, product: Product, form: ReportForm) -> Told | Untold:
    """The amount of a product in the unit that is asked for.

    A volume becomes a mass by what a litre counts as, where that is fixed, else by the density of the label.
    """
    if isinstance(amount, NoAmount):
        return Untold(_why(amount))
    unit = form.unit_of(amount.dimension)
    if unit is not None:
        return Told(amount.exact if unit == amount.unit else amount.base / UNITS[unit].factor, unit)
    density = product.density.base if product.density and product.density.exact else None
    (unit,) = form.units
    if amount.dimension == "volume":
        per_litre = form.litre or density
        return Told(amount.base * per_litre / UNITS[unit].factor, unit) if per_litre else _untold("no_density")
    return Told(amount.base / density / UNITS[unit].factor, unit) if density else _untold("no_density")


def ingredient_in(
    amount: Amount | NoAmount, product: Product, ingredient: ActiveIngredient
) -> Fraction | Untold:
    """The mass in kg of one active ingredient in so much product: volume x density x percent, of weight; of
    volume where the label says weight in volume."""
    if isinstance(amount, NoAmount):
        return Untold(_why(amount))
    if ingredient.percent is None:
        return _untold("no_percent")
    basis = " ".join((ingredient.basis or "").casefold().split())
    share = Fraction(ingredient.percent)
    density = product.density.base if product.density and product.density.exact else None
    if basis in _OF_WEIGHT:
        mass = amount.base if amount.dimension == "mass" else density and amount.base * density
        return _untold("no_density") if mass is None else mass * share / 100
    if basis in _OF_VOLUME:
        litres = amount.base if amount.dimension == "volume" else density and amount.base / density
        return _untold("no_density") if litres is None else litres * share * KG_PER_LITRE_OF_A_PERCENT
    return _untold("basis" if basis else "no_basis")


def _why(amount: NoAmount) -> Wording:
    """Why there is no amount, the missing members by their names."""
    if not amount.is_missing:
        return Wording(amount.say("en"), amount.say("es"))
    named = {
        language: ", ".join(member_label(path, language) for path in amount.paths) for language in LANGUAGES
    }
    return Wording(*(fill(WORDINGS["missing"], {"members": named[each]}, each) for each in LANGUAGES))


def _untold(wording_id: str) -> Untold:
    return Untold(WORDINGS[wording_id])
