"""Reading a dilution in the ways that labels state it."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from records.mixing.by_weight import BY_WEIGHT, product_per_litre
from records.mixing.errors import MixError
from records.mixing.wordings import Sentence
from shared.quantities import Quantity, QuantityError, parse, parse_number

_LONGEST = 200
_NUMBER = r"([0-9.,]+)"
_PARTS = re.compile(rf"{_NUMBER} ?: ?{_NUMBER}")
_IN_TOTAL = re.compile(rf"{_NUMBER} (?:in|en) {_NUMBER}")
_ACTIVE = re.compile(r"(.+?)(?: (?:active|activo|de activo))? (?:from|de) (.+?)(?: (?:active|activo))?")
_OF_MIX = re.compile(r"(.+) (?:of|de) (?:the |la )?(?:finished mix|mezcla final)")
_OF_WATER = re.compile(r"(.+) (?:of|de) (?:the |el )?(?:water|agua)")
_BY_VOLUME = re.compile(r" ?(?:v/v|by volume|por volumen|en volumen)\b")
_PERCENT = re.compile(r"%|percent|per cent|por ciento")
_NOT_A_RATE = ("quantity/unknown_unit", "quantity/no_unit", "quantity/no_number")

_PER_AREA = ("volume_per_area", "mass_per_area")
_BY_MASS = ("mass_per_volume", "density", "mass_per_area")

# From the base unit of a rate's dimension to litres or kilograms of product per litre or square metre.
_TO_BASE = {
    "share": Fraction(1, 100),
    "volume_per_volume": Fraction(1, 1000),
    "mass_per_volume": Fraction(1, 1000),
    "density": Fraction(1),
    "volume_per_area": Fraction(1),
    "mass_per_area": Fraction(1, 1000),
}


@dataclass(frozen=True)
class Dilution:
    """How much product goes into a mix.

    `per_litre` is product per litre of finished mix, `per_square_metre` product per treated area; one of
    them is 0. Product is in litres, or in kilograms if `by_mass`. `unit` is the product's unit, None where
    the dilution names none. `basis` says how the dilution was read.
    """

    text: str
    basis: Sentence
    per_litre: Fraction = Fraction(0)
    per_square_metre: Fraction = Fraction(0)
    by_mass: bool = False
    unit: str | None = None
    notes: tuple[Sentence, ...] = ()


def read_dilution(text: str, density: Quantity | None = None) -> Dilution:
    """The dilution that a person typed: `1:15`, `1 in 10`, `5 %`, `3 lb/(100 gal) of water`,
    `2 oz/(1000 ft**2)`, `0.5 % active from 12.5 % active`.

    `1:15` is 1 + 15 parts, `1 in 10` one part of the total: labels use both, and they differ. `density` is
    the product's, without which a percent by weight is refused. Raises MixError.
    """
    plain = " ".join(text.split())
    if not plain:
        raise MixError("dilution", "mix/empty_dilution", {})
    if len(plain) > _LONGEST:
        raise _unknown(plain[:60] + "…")
    try:
        dilution = _read(plain, density)
    except QuantityError as error:
        if error.wording_id.startswith(_NOT_A_RATE):
            raise _unknown(plain) from error
        raise MixError.of("dilution", error) from error
    if not dilution.per_litre and not dilution.per_square_metre:
        raise MixError("dilution", "mix/no_product", {"text": plain})
    return dilution


def _unknown(text: str) -> MixError:
    return MixError("dilution", "mix/unknown_dilution", {"text": text})


def _read(text: str, density: Quantity | None) -> Dilution:
    lowered = text.casefold()
    if _PERCENT.search(lowered) and BY_WEIGHT.search(lowered):
        per_litre, basis = product_per_litre(text, lowered, density)
        return Dilution(text, basis, per_litre=per_litre, notes=(Sentence("mix/note_volumes_add"),))
    lowered = _BY_VOLUME.sub("", lowered)
    for pattern, reader in _READERS:
        matched = pattern.fullmatch(lowered)
        if matched:
            return reader(text, *matched.groups())
    return _rate(text, lowered)


def _parts(text: str, product: str, diluent: str) -> Dilution:
    product, diluent = parse_number(product), parse_number(diluent)
    parts = Fraction(product) + Fraction(diluent)
    share = Fraction(product) / parts if parts else parts
    basis = Sentence("mix/basis_parts", {"product": product, "diluent": diluent})
    return Dilution(text, basis, per_litre=share)


def _in_total(text: str, product: str, total: str) -> Dilution:
    product, total = parse_number(product), parse_number(total)
    share = Fraction(product) / Fraction(total) if Fraction(total) else Fraction(0)
    basis = Sentence("mix/basis_in_total", {"product": product, "total": total})
    return Dilution(text, basis, per_litre=share)


def _of_mix(text: str, rate: str) -> Dilution:
    return _rate(text, rate, of="mix")


def _of_water(text: str, rate: str) -> Dilution:
    return _rate(text, rate, of="water")


def _active(text: str, wanted_text: str, supplied_text: str) -> Dilution:
    """C1 V1 = C2 V2; source: US Army Medical Department, Pesticides in the Military (subcourse MD0173)."""
    wanted, supplied = parse(wanted_text, "share"), parse(supplied_text, "share")
    blanks = {"wanted": wanted, "supplied": supplied}
    if wanted.base > supplied.base:
        raise MixError("dilution", "mix/stronger_than_supplied", blanks)
    share = wanted.base / supplied.base if supplied.base else Fraction(0)
    basis = Sentence("mix/basis_active", blanks)
    return Dilution(text, basis, per_litre=share, notes=(Sentence("mix/note_same_basis"),))


def _rate(text: str, rate_text: str, of: str | None = None) -> Dilution:
    if of and (_PARTS.fullmatch(rate_text) or _IN_TOTAL.fullmatch(rate_text)):
        raise MixError("dilution", "mix/of_has_no_place", {"text": rate_text})
    rate = parse(rate_text)
    if rate.dimension not in _TO_BASE:
        raise _unknown(text)
    if rate.dimension in _PER_AREA:
        return _product_per_area(text, rate, of)
    by_mass = rate.dimension in _BY_MASS
    amount = rate.base * _TO_BASE[rate.dimension]
    unit = None if rate.dimension == "share" else rate.unit.partition("/")[0]
    if of == "water" and not by_mass:
        amount = amount / (1 + amount)
    basis = _basis_of_rate(rate, of)
    return Dilution(text, basis, amount, by_mass=by_mass, unit=unit, notes=_notes_on_weight(by_mass, unit))


def _product_per_area(text: str, rate: Quantity, of: str | None) -> Dilution:
    if of:
        raise MixError("dilution", "mix/of_has_no_place", {"text": rate})
    by_mass, unit = rate.dimension in _BY_MASS, rate.unit.partition("/")[0]
    return Dilution(
        text,
        basis=Sentence("mix/basis_per_area", {"rate": rate}),
        per_square_metre=rate.base * _TO_BASE[rate.dimension],
        by_mass=by_mass,
        unit=unit,
        notes=_notes_on_weight(by_mass, unit),
    )


def _notes_on_weight(by_mass: bool, unit: str | None) -> tuple[Sentence, ...]:
    dry = (Sentence("mix/note_dry_volume"),) if by_mass else ()
    return (*dry, Sentence("mix/note_ounces")) if unit == "oz" else dry


def _basis_of_rate(rate: Quantity, of: str | None) -> Sentence:
    if rate.dimension == "share":
        return Sentence(f"mix/basis_share_of_{of or 'mix'}", {"share": rate})
    if of is None:
        return Sentence("mix/basis_rate_of_mix_assumed", {"rate": rate})
    return Sentence(f"mix/basis_rate_of_{of}", {"rate": rate})


_READERS: tuple[tuple[re.Pattern[str], Callable[..., Dilution]], ...] = (
    (_PARTS, _parts),
    (_IN_TOTAL, _in_total),
    (_OF_MIX, _of_mix),
    (_OF_WATER, _of_water),
    (_ACTIVE, _active),
)
