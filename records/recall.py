"""Where a lot went: the treatments and tanks whose records name it, however its number was written."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from records.models import Batch, Firm, Product, Treatment, TreatmentProduct
from records.on_shelf import OnShelf
from shared.quantities import Quantity


@dataclass(frozen=True)
class Went:
    """One line of a treatment that names the lot. Of a left-over nothing is `mixed`: an earlier record took
    it."""

    line: TreatmentProduct
    mixed: Quantity | None
    applied: Quantity | None

    @property
    def treatment(self) -> Treatment:
        return self.line.treatment

    @property
    def is_planned(self) -> bool:
        """Whether nothing says that the work has begun: what is `mixed` is a plan that can be stopped."""
        timing = self.treatment.document.get("timing") or {}
        return self.treatment.state == Treatment.State.DRAFT and not timing.get("started_at")

    @property
    def customer(self) -> Any:
        """Whom to call; None where the record no longer says whose site it was."""
        return self.treatment.site.customer if self.treatment.customer_name else None


@dataclass(frozen=True)
class Recall:
    """`others` name the number with another product: perhaps a slip, perhaps another lot."""

    treatments: list[Went]
    others: list[Went]
    tanks: list[Batch]

    @property
    def planned(self) -> list[Went]:
        """What can still be stopped, the next first."""
        return [each for each in reversed(self.treatments) if each.is_planned]

    @property
    def went(self) -> list[Went]:
        return [each for each in self.treatments if not each.is_planned]

    @property
    def all(self) -> list[Went]:
        return [*self.planned, *self.went, *self.others]


def folded(number: str) -> str:
    """The number without what people write otherwise: case, spaces, hyphens, points."""
    return "".join(sign for sign in number.casefold() if sign.isalnum()) or number


def recall(firm: Firm, shelf: OnShelf) -> Recall:
    """All that may hold something of the lot, the newest first: signed, drafts, brought in and void."""
    lines = TreatmentProduct.objects.for_firm(firm).exclude(lot="")
    same = [lot for lot in lines.order_by().values_list("lot", flat=True).distinct() if _is(shelf, lot)]
    named = lines.filter(lot__in=same).select_related("treatment__site__customer")
    products = set(Product.objects.for_firm(firm).values_list("name", flat=True))
    treatments, others = [], []
    for line in named.order_by("-treatment__day", "-treatment__uuid", "uuid"):
        meant = {"lot": shelf.number, "name": line.name, "registration_number": line.registration_number}
        (treatments if shelf.story.means(meant, products) else others).append(_went(shelf, line))
    return Recall(treatments, others, list(_tanks(firm, shelf)))


def _is(shelf: OnShelf, number: str) -> bool:
    return folded(number) == folded(shelf.number)


def _tanks(firm: Firm, shelf: OnShelf) -> Iterator[Batch]:
    for tank in Batch.objects.for_firm(firm).select_related("rig").order_by("-mixed_at"):
        if any(_is(shelf, str(line.get("lot") or "")) for line in tank.products):
            yield tank


def _went(shelf: OnShelf, line: TreatmentProduct) -> Went:
    return Went(line, _said(shelf, line, "mixed"), _said(shelf, line, "applied"))


def _said(shelf: OnShelf, line: TreatmentProduct, which: str) -> Quantity | None:
    for dimension in ("volume", "mass"):
        base = getattr(line, f"{which}_{dimension}")
        if base is not None:
            return shelf.said_in(dimension, Fraction(base))
    return None
