"""Planned treatments that name a lot which is set aside, as after a recall."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from records.models import Firm, Product, StockMove, Treatment, TreatmentProduct
from records.recall import folded
from records.stock_entries import Story

Kind = StockMove.Kind


@dataclass(frozen=True)
class LotAside:
    """A lot of which nothing is to be used, and the entry that says so."""

    move: StockMove

    @property
    def number(self) -> str:
        return self.move.lot.number

    @property
    def product(self) -> Product:
        return self.move.lot.label.product

    def is_in(self, line: Mapping[str, Any], products: set[str]) -> bool:
        """Whether a line of a treatment names it, however its number was written."""
        if folded(str(line.get("lot") or "")) != folded(self.number):
            return False
        return Story([self.move.lot]).means({**line, "lot": self.number}, products)


@dataclass(frozen=True)
class Planned:
    """A treatment that nobody has signed, and the lots set aside that it names."""

    treatment: Treatment
    lots: Sequence[LotAside]


def lots_aside(firm: Firm) -> list[LotAside]:
    entries = StockMove.objects.for_firm(firm).filter(kind=Kind.SET_ASIDE)
    standing = entries.exclude(about__kind=Kind.TAKEN_BACK).select_related("lot__label__product", "by")
    return [LotAside(move) for move in standing]


def aside_in(treatment: Treatment) -> Iterator[tuple[str, LotAside]]:
    """By the place in the draft's document where each is named. Of what is being corrected nothing: it was
    used."""
    if treatment.state != Treatment.State.DRAFT or not (aside := lots_aside(treatment.firm)):
        return
    products = _products(treatment.firm)
    for at, mix in enumerate(treatment.document.get("mixes") or []):
        for number, line in enumerate(mix.get("products") or []):
            for lot in aside:
                if lot.is_in(line, products):
                    yield f"mixes[{at}].products[{number}].lot", lot


def planned_with_lots_aside(firm: Firm) -> list[Planned]:
    """The drafts that name one, the soonest first; not those that were stood down."""
    if not (aside := lots_aside(firm)):
        return []
    lines = TreatmentProduct.objects.for_firm(firm).filter(treatment__state=Treatment.State.DRAFT)
    lines = lines.exclude(lot="").exclude(treatment__result="stood-down").select_related("treatment")
    products = _products(firm)
    found: dict[Treatment, list[LotAside]] = {}
    for line in lines.defer("treatment__document", "treatment__unread").order_by(
        "treatment__planned_at", "uuid"
    ):
        said = {"lot": line.lot, "name": line.name, "registration_number": line.registration_number}
        named = found.get(line.treatment, [])
        named = [*named, *(lot for lot in aside if lot not in named and lot.is_in(said, products))]
        if named:
            found[line.treatment] = named
    return [Planned(treatment, lots) for treatment, lots in found.items()]


def _products(firm: Firm) -> set[str]:
    return set(Product.objects.for_firm(firm).values_list("name", flat=True))
