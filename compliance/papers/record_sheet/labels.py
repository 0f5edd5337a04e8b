"""A product as registered, and what the label on its container says, on a few lines."""

from compliance.papers.record_sheet.work import span_of_days
from compliance.papers.speech import Speech, joined
from records.document.types import ActiveIngredient, Label, Limit, Product
from shared.quantities import Quantity


def product_said(product: Product, speech: Speech) -> str:
    """Kind, signal word, restricted use, active ingredients, density, lot, supplier; then the label."""
    restricted = {None: "", True: "mix/restricted", False: "mix/general"}[product.restricted_use]
    active = joined(_active_said(one) for one in product.active_ingredients or ())
    density = speech.quantity(product.density)
    signal = speech.listed("signal_word", product.signal_word)
    registered = (
        speech.listed("product_kind", product.kind),
        _regime(product, speech),
        signal and speech.word("mix/signal", word=signal),
        restricted and speech.word(restricted),
        active and speech.word("mix/active", list=active),
        density and speech.word("mix/density", value=density),
        product.lot and speech.word("mix/lot", lot=product.lot),
        product.supplier and speech.word("mix/supplier", supplier=product.supplier),
    )
    label = _label_said(product.label, speech) if product.label else ""
    return joined((*registered, label), " · ")


def _regime(product: Product, speech: Speech) -> str:
    """The regime, where the kind does not say the same."""
    return "" if product.regime == product.kind else speech.listed("regime", product.regime)


def _active_said(active: ActiveIngredient) -> str:
    share = active.percent and joined((f"{active.percent} %", active.basis), " ")
    return joined((active.name, share), " ")


def _label_said(label: Label, speech: Speech) -> str:
    limits = joined(_limit_said(limit, speech) for limit in label.limits or ())
    lists = (
        ("mix/label-targets", speech.all_listed("target", label.targets)),
        ("mix/label-sites", speech.all_listed("surface_kind", label.sites)),
        ("mix/label-not-on", joined(label.not_on or ())),
        ("mix/label-ppe", speech.all_listed("ppe", label.ppe)),
        ("mix/label-steps", speech.all_listed("step", label.protection)),
    )
    return joined(
        (
            speech.word("mix/label", version=label.version or "–"),
            speech.listed("label_kind", label.kind),
            span_of_days(label, speech),
            limits and speech.word("mix/label-says", limits=limits),
            *(speech.word(wording_id, list=said) for wording_id, said in lists if said),
            *(label.statements or ()),
            label.digest and speech.word("mix/label-digest", digest=label.digest),
        ),
        " · ",
    )


def _limit_said(limit: Limit, speech: Speech) -> str:
    what = speech.listed("limit_quantity", limit.of)
    least, most = _bound(limit.min, speech), _bound(limit.max, speech)
    if least and most:
        return speech.word("mix/between", what=what, min=least, max=most)
    if least:
        return speech.word("mix/at-least", what=what, min=least)
    return speech.word("mix/at-most", what=what, max=most) if most else what


def label_unit(product: Product, quantity: str) -> str | None:
    """The unit in which the product's label states its limit of this quantity; None where it states none."""
    limits = (product.label and product.label.limits) or ()
    bounds = [limit.max or limit.min for limit in limits if limit.of == quantity]
    return next((bound.unit for bound in bounds if isinstance(bound, Quantity)), None)


def _bound(bound: Quantity | str | None, speech: Speech) -> str:
    return bound if isinstance(bound, str) else speech.quantity(bound)
