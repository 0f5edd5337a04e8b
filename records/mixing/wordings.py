"""The words of mixing: how a dilution was read, what to bear in mind, and what can be wrong."""

from dataclasses import dataclass, field

from shared import quantities
from shared.wording import Blanks, Catalogue, Wording, say

_BASES: Catalogue = {
    "mix/basis_parts": Wording(
        "{product}:{diluent} means {product} + {diluent} parts: {product} of product and {diluent} of "
        "diluent, by volume",
        "{product}:{diluent} significa {product} + {diluent} partes: {product} de producto y {diluent} "
        "de diluyente, por volumen",
    ),
    "mix/basis_in_total": Wording(
        "{product} in {total} is of the total: {product} of product in {total} of finished mix, by volume",
        "{product} en {total} es del total: {product} de producto en {total} de mezcla final, por volumen",
    ),
    "mix/basis_share_of_mix": Wording(
        "{share} by volume of the finished mix is product",
        "{share} del volumen de la mezcla final es producto",
    ),
    "mix/basis_share_of_water": Wording(
        "product is {share} by volume of the water that is added to it",
        "el producto es {share} del volumen del agua que se le añade",
    ),
    "mix/basis_rate_of_mix": Wording(
        "{rate} of finished mix",
        "{rate} de mezcla final",
    ),
    "mix/basis_rate_of_mix_assumed": Wording(
        "{rate} of finished mix (the rate does not say of what; finished mix is assumed)",
        "{rate} de mezcla final (la dosis no dice de qué; se supone mezcla final)",
    ),
    "mix/basis_rate_of_water": Wording(
        "{rate} of water",
        "{rate} de agua",
    ),
    "mix/basis_active": Wording(
        "{wanted} of active ingredient in the finished mix, from a product with {supplied}",
        "{wanted} de ingrediente activo en la mezcla final, de un producto con {supplied}",
    ),
    "mix/basis_weight_of_mix": Wording(
        "{share} of the weight of the finished mix is product, of which the density is {density}",
        "el {share} del peso de la mezcla final es producto, cuya densidad es {density}",
    ),
    "mix/basis_weight_of_water": Wording(
        "product is {share} of the weight of the water that is added to it; its density is {density}",
        "el producto es el {share} del peso del agua que se le añade; su densidad es {density}",
    ),
    "mix/basis_weight_per_volume": Wording(
        "{share} as weight per volume: so many grams of product in 100 mL of finished mix, at a density of "
        "{density}",
        "{share} como peso por volumen: tantos gramos de producto en 100 mL de mezcla final, con una densidad "
        "de {density}",
    ),
    "mix/basis_active_by_weight": Wording(
        "{wanted} of the weight of the finished mix is active ingredient, from a product with {supplied} by "
        "weight and a density of {density}",
        "el {wanted} del peso de la mezcla final es ingrediente activo, de un producto con {supplied} en peso "
        "y una densidad de {density}",
    ),
    "mix/basis_per_area": Wording(
        "{rate} of treated area, carried in the finished mix that the coverage gives",
        "{rate} de superficie tratada, llevado en la mezcla final que da la cobertura",
    ),
}

_NOTES: Catalogue = {
    "mix/note_label": Wording(
        "This is arithmetic only: the label is the law, and its rates and limits outrank these figures.",
        "Es solo aritmética: la etiqueta es la ley, y sus dosis y límites prevalecen sobre estas cifras.",
    ),
    "mix/note_dry_volume": Wording(
        "The product is measured by weight; the volume that it takes up in the mix is neglected.",
        "El producto se mide por peso; el volumen que ocupa en la mezcla se desprecia.",
    ),
    "mix/note_ounces": Wording(
        "oz is an ounce by weight; a fluid ounce is written fl oz.",
        "oz es una onza de peso; la onza líquida se escribe fl oz.",
    ),
    "mix/note_same_basis": Wording(
        "Both strengths are taken to be stated alike, by volume or as weight per volume.",
        "Se supone que ambas concentraciones se expresan igual, por volumen o como peso por volumen.",
    ),
    "mix/note_volumes_add": Wording(
        "Water is taken to weigh 1 kg/L, and the volumes of product and water to add up.",
        "Se supone que el agua pesa 1 kg/L y que los volúmenes de producto y agua se suman.",
    ),
    "mix/note_no_tank": Wording(
        "Without a tank size no loads are planned.",
        "Sin el tamaño del tanque no se planifican cargas.",
    ),
}

_FAULTS: Catalogue = {
    "mix/empty_dilution": Wording(
        "no dilution is given; write for example 1:15, 1 in 10, 5 %, 8 fl oz/gal or 3 lb/(100 gal)",
        "no se indica la dilución; escriba por ejemplo 1:15, 1 en 10, 5 %, 8 fl oz/gal o 3 lb/(100 gal)",
    ),
    "mix/unknown_dilution": Wording(
        "{text} is not a dilution that is known here; write for example 1:15, 1 in 10, 5 %, 8 fl oz/gal, "
        "3 lb/(100 gal) or 0.5 % active from 12.5 %",
        "{text} no es una dilución conocida aquí; escriba por ejemplo 1:15, 1 en 10, 5 %, 8 fl oz/gal, "
        "3 lb/(100 gal) o 0.5 % activo de 12.5 %",
    ),
    "mix/percent_by_weight": Wording(
        "{text} is a percent by weight, which needs the density of the product; give it, or write the rate by "
        "volume, or as weight per volume such as lb/(100 gal) or g/L",
        "{text} es un porcentaje en peso, que necesita la densidad del producto; indíquela, o escriba la dosis "
        "por volumen, o como peso por volumen, por ejemplo lb/(100 gal) o g/L",
    ),
    "mix/weight_and_volume": Wording(
        "{text} sets weight against volume; write it by weight alone, or as weight per volume of finished mix",
        "{text} mezcla peso y volumen; escríbalo solo en peso, o como peso por volumen de mezcla final",
    ),
    "mix/of_has_no_place": Wording(
        "{text} cannot take 'of finished mix' or 'of water'; only a percent or a rate per volume can",
        "{text} no admite «de mezcla final» ni «de agua»; solo un porcentaje o una dosis por volumen",
    ),
    "mix/no_product": Wording(
        "{text} puts no product into the mix",
        "{text} no pone producto en la mezcla",
    ),
    "mix/stronger_than_supplied": Wording(
        "a mix of {wanted} cannot be made from a product of {supplied}",
        "no se puede hacer una mezcla de {wanted} con un producto de {supplied}",
    ),
    "mix/more_product_than_mix": Wording(
        "{text} asks for more product ({product}) than there is finished mix ({mix})",
        "{text} pide más producto ({product}) que mezcla final ({mix})",
    ),
    "mix/too_little_product": Wording(
        "{text} makes so little product for this area that it cannot be stated",
        "{text} da tan poco producto para esta superficie que no se puede expresar",
    ),
    "mix/too_little_mix": Wording(
        "this area and coverage make so little finished mix that it cannot be stated",
        "esta superficie y cobertura dan tan poca mezcla final que no se puede expresar",
    ),
    "mix/must_be_above_zero": Wording(
        "{got} will not do; it must be above 0",
        "{got} no sirve; debe ser mayor que 0",
    ),
    "mix/too_many_loads": Wording(
        "a tank of {tank} would take more than {most} loads for {mix}; check the area, the coverage and the "
        "tank",
        "un tanque de {tank} necesitaría más de {most} cargas para {mix}; revise la superficie, la cobertura "
        "y el tanque",
    ),
}

WORDINGS: Catalogue = {**quantities.WORDINGS, **_BASES, **_NOTES, **_FAULTS}


@dataclass(frozen=True)
class Sentence:
    """A sentence by its id and blanks, to be said in any language."""

    wording_id: str
    blanks: Blanks = field(default_factory=dict)

    def say(self, language: str) -> str:
        """The sentence in this language."""
        return say(WORDINGS, self.wording_id, self.blanks, language)
