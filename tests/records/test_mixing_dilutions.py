"""Dilutions in the ways that labels state them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.mixing import Dilution, MixError, read_dilution
from shared.quantities import Quantity


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("1:15", Fraction(1, 16)),
        ("1 : 7.5", Fraction(2, 17)),
        ("2:15", Fraction(2, 17)),
        ("1:0", Fraction(1)),
        ("1 in 10", Fraction(1, 10)),
        ("1 en 10", Fraction(1, 10)),
        ("5 %", Fraction(1, 20)),
        ("5%", Fraction(1, 20)),
        ("5 percent", Fraction(1, 20)),
        ("5 % v/v", Fraction(1, 20)),
        ("5 % by volume", Fraction(1, 20)),
        ("0,5 %", Fraction(1, 200)),
        ("500 ppm", Fraction(1, 2000)),
        ("5 % of finished mix", Fraction(1, 20)),
        ("5 % of the finished mix", Fraction(1, 20)),
        ("5 % de la mezcla final", Fraction(1, 20)),
        ("5 % of water", Fraction(1, 21)),
        ("5 % de agua", Fraction(1, 21)),
        ("8 fl_oz/gal", Fraction(1, 16)),
        ("8 fl oz per gallon", Fraction(1, 16)),
        ("8 fl_oz/gal of finished mix", Fraction(1, 16)),
        ("8 fl_oz/gal of water", Fraction(1, 17)),
        ("2 pt/(100 gal)", Fraction(1, 400)),
        ("10 mL/L", Fraction(1, 100)),
        ("0.5 % active from 12.5 % active", Fraction(1, 25)),
        ("0.5 % active from 12.5 %", Fraction(1, 25)),
        ("0.5 % from 12.5 %", Fraction(1, 25)),
        ("500 ppm active from 5 %", Fraction(1, 100)),
        ("0.5 % activo de 12.5 %", Fraction(1, 25)),
    ],
)
def test_a_dilution_by_volume_is_a_share_of_the_finished_mix(text, share):
    dilution = read_dilution(text)

    assert (dilution.per_litre, dilution.per_square_metre, dilution.by_mass) == (share, 0, False)


@pytest.mark.parametrize(
    "text", ["3 lb/(100 gal)", "3 lb/(100 gal) of water", "3 lb per 100 gal of finished mix"]
)
def test_a_rate_by_weight_is_weight_per_volume(text):
    dilution = read_dilution(text)

    assert dilution.by_mass
    assert dilution.unit == "lb"
    assert dilution.per_litre == Fraction("0.45359237") * 3 / (100 * Fraction("3.785411784"))


def test_weight_per_gallon_without_a_hundred_is_a_rate_too():
    assert read_dilution("0.03 lb/gal").per_litre == read_dilution("3 lb/(100 gal)").per_litre


@pytest.mark.parametrize(
    ("text", "unit", "by_mass"),
    [
        ("2 oz/(1000 ft**2)", "oz", True),
        ("2 oz per 1000 sq ft", "oz", True),
        ("3 lb/acre", "lb", True),
        ("6 fl oz/1000 sq ft", "fl_oz", False),
        ("0.25 gal/acre", "gal", False),
    ],
)
def test_product_per_area_is_a_rate_of_the_treated_area(text, unit, by_mass):
    dilution = read_dilution(text)

    assert (dilution.per_litre, dilution.unit, dilution.by_mass) == (0, unit, by_mass)
    assert dilution.per_square_metre > 0


@pytest.mark.parametrize(
    ("text", "english", "spanish"),
    [
        ("1:15", "1:15 means 1 + 15 parts: 1 of product and 15 of diluent, by volume",
         "1:15 significa 1 + 15 partes: 1 de producto y 15 de diluyente, por volumen"),
        ("1 in 10", "1 in 10 is of the total: 1 of product in 10 of finished mix, by volume",
         "1 en 10 es del total: 1 de producto en 10 de mezcla final, por volumen"),
        ("5 %", "5 % by volume of the finished mix is product",
         "5 % del volumen de la mezcla final es producto"),
        ("5 % of water", "product is 5 % by volume of the water that is added to it",
         "el producto es 5 % del volumen del agua que se le añade"),
        ("3 lb/(100 gal)",
         "3 lb/100 gal of finished mix (the rate does not say of what; finished mix is assumed)",
         "3 lb/100 gal de mezcla final (la dosis no dice de qué; se supone mezcla final)"),
        ("3 lb/(100 gal) of finished mix", "3 lb/100 gal of finished mix", "3 lb/100 gal de mezcla final"),
        ("3 lb/(100 gal) of water", "3 lb/100 gal of water", "3 lb/100 gal de agua"),
        ("0.5 % active from 12.5 %",
         "0.5 % of active ingredient in the finished mix, from a product with 12.5 %",
         "0.5 % de ingrediente activo en la mezcla final, de un producto con 12.5 %"),
        ("3 lb/acre", "3 lb/acre of treated area, carried in the finished mix that the coverage gives",
         "3 lb/acre de superficie tratada, llevado en la mezcla final que da la cobertura"),
    ],
)  # fmt: skip
def test_how_a_dilution_was_read_is_said(text, english, spanish):
    basis = read_dilution(text).basis

    assert basis.say("en") == english
    assert basis.say("es") == spanish


def notes(dilution: Dilution) -> list[str]:
    return [note.wording_id for note in dilution.notes]


def test_that_the_volume_of_a_dry_product_is_neglected_is_noted():
    assert notes(read_dilution("3 lb/(100 gal)")) == ["mix/note_dry_volume"]
    assert notes(read_dilution("3 lb/acre")) == ["mix/note_dry_volume"]


def test_that_an_ounce_is_a_weight_is_noted():
    assert notes(read_dilution("2 oz/gal")) == ["mix/note_dry_volume", "mix/note_ounces"]
    assert notes(read_dilution("2 oz/1000 sq ft")) == ["mix/note_dry_volume", "mix/note_ounces"]


def test_that_strengths_are_taken_to_be_stated_alike_is_noted():
    assert notes(read_dilution("0.5 % active from 12.5 %")) == ["mix/note_same_basis"]


@pytest.mark.parametrize(
    ("text", "wording_id"),
    [
        ("", "mix/empty_dilution"),
        ("   ", "mix/empty_dilution"),
        ("strong", "mix/unknown_dilution"),
        ("5", "mix/unknown_dilution"),
        ("5 blobs/gal", "mix/unknown_dilution"),
        ("5 psi", "mix/unknown_dilution"),
        ("5 tbsp/gal", "mix/unknown_dilution"),
        ("5 % from the can", "mix/unknown_dilution"),
        ("1" * 500, "mix/unknown_dilution"),
        ("5 % w/w", "mix/percent_by_weight"),
        ("5 % by weight", "mix/percent_by_weight"),
        ("5 por ciento en peso", "mix/percent_by_weight"),
        ("5 % w/v", "mix/percent_by_weight"),
        ("0.5 % w/w active from 12.5 % w/w", "mix/percent_by_weight"),
        ("1:15 of water", "mix/of_has_no_place"),
        ("1 in 10 of water", "mix/of_has_no_place"),
        ("3 lb/acre of water", "mix/of_has_no_place"),
        ("0 %", "mix/no_product"),
        ("0:15", "mix/no_product"),
        ("0:0", "mix/no_product"),
        ("1 in 0", "mix/no_product"),
        ("0 % active from 0 %", "mix/no_product"),
        ("0 lb/acre", "mix/no_product"),
        ("5 % active from 0.5 %", "mix/stronger_than_supplied"),
        ("0.5 % active from 3 gal", "quantity/wrong_dimension"),
        ("1:1,000", "quantity/ambiguous_comma"),
        ("1:..", "quantity/not_a_value"),
        ("-5 %", "quantity/below_zero"),
        ("1/2 %", "quantity/fraction"),
    ],
)
def test_what_is_no_dilution_is_refused_with_the_reason(text, wording_id):
    with pytest.raises(MixError) as refused:
        read_dilution(text)

    assert (refused.value.field, refused.value.wording_id) == ("dilution", wording_id)
    assert refused.value.say("en") != refused.value.say("es")


@pytest.mark.parametrize(
    ("text", "per_litre"),
    [
        # of 1 kg of mix 0.05 kg are product (0.04 L) and 0.95 kg water (0.95 L): 0.04 L in 0.99 L
        ("5 % w/w", Fraction(4, 99)),
        ("5 % by weight of finished mix", Fraction(4, 99)),
        ("5 por ciento en peso", Fraction(4, 99)),
        # 0.05 kg of product (0.04 L) to 1 kg of water
        ("5 % w/w of water", Fraction(4, 104)),
        ("0.5 % w/w active from 10 % w/w", Fraction(4, 99)),
        ("0.5 % active from 10 % by weight", Fraction(4, 99)),
        # 0.05 kg in a litre
        ("5 % w/v", Fraction(4, 100)),
    ],
)
def test_a_percent_by_weight_is_planned_by_the_density_of_the_product(text, per_litre):
    dilution = read_dilution(text, Quantity("1.25", "kg/L"))
    assert dilution.per_litre == per_litre
    assert "1.25 kg/L" in dilution.basis.say("en")
    assert "add up" in dilution.notes[0].say("en")


@pytest.mark.parametrize(
    ("text", "wording_id"),
    [
        ("0.5 % w/v active from 10 % w/w", "mix/weight_and_volume"),
        ("5 % w/v of water", "mix/weight_and_volume"),
        ("12 % w/w active from 10 % w/w", "mix/stronger_than_supplied"),
        ("0 % w/w", "mix/no_product"),
    ],
)
def test_what_even_a_density_does_not_make_a_dilution_is_refused(text, wording_id):
    with pytest.raises(MixError) as refused:
        read_dilution(text, Quantity("1.25", "kg/L"))
    assert refused.value.wording_id == wording_id


def test_a_density_changes_nothing_where_no_percent_is_by_weight():
    for text in ("1:15", "5 %", "3 lb/(100 gal)"):
        assert read_dilution(text, Quantity("1.25", "kg/L")) == read_dilution(text)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_words(text):
    try:
        dilution = read_dilution(text)
    except MixError as refused:
        assert refused.say("en") and refused.say("es")
    else:
        assert dilution.basis.say("en") and dilution.basis.say("es")
