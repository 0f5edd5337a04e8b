"""What is in a tank, for somebody who stops the rig or helps a person: products, strength, label. Pure."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from records.document import amounts
from records.document.computed import Amount, NoAmount
from records.document.reader import read
from records.document.types import LeftOver, TreatmentDocument
from records.filled_tank import KEPT as KEPT_FOR_NEXT
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.quantities import QuantityError

Json = Mapping[str, Any]
PLANNED, FILLED, KEPT, EMPTY = "planned", "filled", "kept", "empty"
WORKED = ("treated", "part-treated")
AS_SOLD = ("ready-to-use", "dry")
_OF_A_LABEL = ("name", "registration_number", "signal_word", "restricted_use", "active_ingredients", "label")


@dataclass(frozen=True)
class Line:
    """One product of a mix; `strength` of the mix in words, '' where it can't be worked out."""

    product: Json
    strength: str


@dataclass(frozen=True)
class Tank:
    """One mix: all that was made in words, its lines, and the rig that carries it.

    `state` is one of PLANNED, FILLED, KEPT and EMPTY; `rest` what is left of it in words, '' if not known.
    """

    mix: Json
    made: str
    lines: tuple[Line, ...]
    rig: Json
    state: str
    rest: str

    @property
    def as_sold(self) -> bool:
        return self.mix.get("form") in AS_SOLD


@dataclass(frozen=True)
class LabelOnBoard:
    """A product with its label, once for all tanks. The digest is of the label's file, else of its entry."""

    product: Json
    digest: str
    of_file: bool


def tanks_of(document: Json, language: str) -> list[Tank]:
    """The mixes of a treatment."""
    typed = read(document)
    return [
        Tank(
            mix,
            _said(amounts.mixed(typed, number), language),
            tuple(
                Line(line, _strength(typed, number, at, language))
                for at, line in enumerate(mix.get("products") or [])
            ),
            _rig_of(mix, document),
            state_of(typed, number),
            _rest(typed, number, language),
        )
        for number, mix in enumerate(document.get("mixes") or [])
    ]


def state_of(document: TreatmentDocument, number: int) -> str:
    """Before a draw or the start of spraying a mix is only planned; it is empty once nothing can be left."""
    mix = (document.mixes or [])[number]
    left = (mix.left_over and mix.left_over.disposition) or ""
    if left:
        return KEPT if left == KEPT_FOR_NEXT else EMPTY
    timing, record = document.timing, document.record
    begun = timing and (timing.started_at or timing.finished_at)
    if not (begun or mix.loads or mix.applied or record.result in WORKED):
        return PLANNED
    rest = _rest_of(document, number)
    return EMPTY if rest is not None and rest.exact <= 0 else FILLED


def labels_on_board(tanks: Iterable[Tank]) -> list[LabelOnBoard]:
    """Each product with each of its labels, in the order of the tanks."""
    labels: dict[bytes, LabelOnBoard] = {}
    for line in (line for tank in tanks for line in tank.lines):
        stated = {name: line.product[name] for name in _OF_A_LABEL if line.product.get(name) is not None}
        labels.setdefault(canonical_bytes(stated), _label_on_board(stated))
    return list(labels.values())


def _label_on_board(stated: dict[str, Any]) -> LabelOnBoard:
    label = stated.get("label") or {}
    of_file = label.get("digest") or ""
    return LabelOnBoard(stated, of_file or (digest(canonical_bytes(label)) if label else ""), bool(of_file))


def _strength(document: TreatmentDocument, mix: int, line: int, language: str) -> str:
    """By volume where it can be, else the product's weight in a volume of mix."""
    share = amounts.strength(document, mix, line)
    if isinstance(share, NoAmount):
        share = amounts.strength(document, mix, line, "lb/(100 gal)")
    return _said(share, language)


def _rest(document: TreatmentDocument, number: int, language: str) -> str:
    mix = (document.mixes or [])[number]
    if mix.left_over and mix.left_over.amount:
        return mix.left_over.amount.say(language)
    rest = None if _is_over(document, mix.left_over) and not mix.applied else _rest_of(document, number)
    return _said(rest, language) if rest and rest.exact > 0 else ""


def _is_over(document: TreatmentDocument, left: LeftOver | None) -> bool:
    """Whether spraying has ended, so that what was applied is another amount than none yet."""
    ended = document.timing and document.timing.finished_at
    return bool(left or ended or document.record.result in WORKED)


def _rest_of(document: TreatmentDocument, number: int) -> Amount | None:
    """What was mixed, without what was applied; None where one of them is unknown or they don't meet."""
    whole, applied = amounts.mixed(document, number), (document.mixes or [])[number].applied
    if isinstance(whole, NoAmount) or (applied and applied.dimension != whole.dimension):
        return None
    rest = whole.exact - (applied.to(whole.unit) if applied else 0)
    return whole.but(exact=rest)


def _said(amount: Amount | NoAmount, language: str) -> str:
    if isinstance(amount, NoAmount):
        return ""
    try:
        return amount.say(language)
    except QuantityError:
        return ""


def _rig_of(mix: Json, document: Json) -> Json:
    """The rig that the mix names; the only one where it names none."""
    rigs = document.get("equipment") or []
    named = mix.get("equipment")
    if named is None:
        return rigs[0] if len(rigs) == 1 else {}
    return next((rig for rig in rigs if named in (rig.get("id"), rig.get("name"))), {})
