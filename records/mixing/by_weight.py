"""Percents by weight: what they come to by volume, by the density of the product."""

import re
from fractions import Fraction

from records.mixing.errors import MixError
from records.mixing.wordings import Sentence
from shared.quantities import Quantity, parse

WATER = Fraction(1)
"""Kilograms per litre; the pesticide manuals round it to 8.34 lb/gal, which is 0.07 % less."""

BY_WEIGHT = re.compile(r" ?\b(?:[wmp]/[wmpv]|by weight|por peso|en peso|wt)\b")
_PER_VOLUME = re.compile(r"\b[wmp]/v\b")
_ACTIVE = re.compile(r"(.+?)(?: (?:active|activo|de activo))? (?:from|de) (.+?)(?: (?:active|activo))?")
_OF_MIX = re.compile(r"(.+) (?:of|de) (?:the |la )?(?:finished mix|mezcla final)")
_OF_WATER = re.compile(r"(.+) (?:of|de) (?:the |el )?(?:water|agua)")


def product_per_litre(text: str, lowered: str, density: Quantity | None) -> tuple[Fraction, Sentence]:
    """Litres of product in a litre of finished mix, and how the percent was read.

    `5 % w/w`: product by the weight of the mix (or `of water`). `0.5 % active from 12.5 % by weight`:
    C1 W1 = C2 W2. `5 % w/v`: 5 g in 100 mL. `density` is the product's; volumes of product and water are
    taken to add up. Raises MixError without a density, and where weight and volume are mixed.
    """
    if density is None:
        raise MixError("dilution", "mix/percent_by_weight", {"text": text})
    if not density.exact:
        raise MixError("density", "mix/must_be_above_zero", {"got": density})
    plain = " ".join(BY_WEIGHT.sub(" ", lowered).split())
    if _PER_VOLUME.search(lowered):
        return _per_volume(text, lowered, plain, density)
    fraction, basis = _of_the_weight(plain, density)
    heavy = fraction / density.base
    return heavy / (heavy + (1 - fraction) / WATER), basis


def _per_volume(text: str, lowered: str, plain: str, density: Quantity) -> tuple[Fraction, Sentence]:
    """Grams in 100 mL of finished mix, as weight per volume is stated."""
    mixed = len(set(re.findall(r"\b[wmp]/[wmpv]\b", lowered))) > 1
    if mixed or _OF_WATER.fullmatch(plain) or _ACTIVE.fullmatch(plain):
        raise MixError("dilution", "mix/weight_and_volume", {"text": text})
    share = parse(plain, "share")
    basis = Sentence("mix/basis_weight_per_volume", {"share": share, "density": density})
    return share.base / 100 / density.base, basis


def _of_the_weight(plain: str, density: Quantity) -> tuple[Fraction, Sentence]:
    """The product's part of the weight of the mix."""
    blanks: dict[str, Quantity] = {"density": density}
    if of_water := _OF_WATER.fullmatch(plain):
        share = parse(of_water[1], "share")
        ratio = share.base / 100
        return ratio / (1 + ratio), Sentence("mix/basis_weight_of_water", {"share": share, **blanks})
    if of_mix := _OF_MIX.fullmatch(plain):
        plain = of_mix[1]
    elif active := _ACTIVE.fullmatch(plain):
        wanted, supplied = parse(active[1], "share"), parse(active[2], "share")
        strengths = {"wanted": wanted, "supplied": supplied}
        if wanted.base > supplied.base:
            raise MixError("dilution", "mix/stronger_than_supplied", strengths)
        part = wanted.base / supplied.base if supplied.base else Fraction(0)
        return part, Sentence("mix/basis_active_by_weight", {**strengths, **blanks})
    share = parse(plain, "share")
    return share.base / 100, Sentence("mix/basis_weight_of_mix", {"share": share, **blanks})
