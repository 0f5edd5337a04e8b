"""What a product's label is not on record as saying, though a label says it. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass

from compliance.label_limits import wanting
from compliance.label_words import ASKED
from compliance.rulebook.facts import Paths
from records.document.types import Label, Product
from shared.wording import Wording

_NEVER_EMPTY = {"sites": "required", "not_on": "advised"}
"""What a label hardly ever leaves out: without a site it allows nothing; most rule some material out."""


@dataclass(frozen=True)
class Gap:
    """One of them: its members within the product. `as_none`: it is entered, as an empty list."""

    name: str
    title: Wording
    members: Paths
    level: str = "required"
    as_none: bool = False


def is_pesticide(product: Product) -> bool:
    """Whether it is, or may be, one."""
    return product.kind in (None, "pesticide")


def gaps_of(product: Product) -> Iterator[Gap]:
    """A pesticide without a label; what a label was not asked for, or is entered as none."""
    label = product.label
    if label is None:
        if is_pesticide(product):
            yield Gap("stated", Wording("The label", "La etiqueta"), ("label",))
        return
    for name, said in ASKED.items():
        if getattr(label, name) is None:
            yield Gap(f"{name}_stated", said, (f"label.{name}",))
        elif not getattr(label, name) and is_pesticide(product) and name in _NEVER_EMPTY:
            yield Gap(f"{name}_stated", said, (f"label.{name}",), _NEVER_EMPTY[name], as_none=True)
    yield from _half_limits(label)


def _half_limits(label: Label) -> Iterator[Gap]:
    """A limit of which it is not stated what is limited, or to how much: it binds, and nobody can tell to
    what."""
    for number, limit in enumerate(label.limits or ()):
        if lacks := wanting(limit):
            members = tuple(f"label.limits[{number}].{name}" for name in lacks)
            yield Gap(f"limit_{number + 1}_stated", ASKED["limits"], members)
