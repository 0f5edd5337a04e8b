"""What a firm may read of the rules that bind it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from compliance.label_pack import label_packs
from compliance.models import Determination
from compliance.pack_reader import registered_packs
from compliance.rulebook.pack import Pack, Question
from compliance.rulebook.places import covering, not_covered
from records.document.reader import read
from records.document.types import TreatmentDocument
from records.models import Firm, Product, Site
from records.reference import product_part
from shared import clock


@dataclass(frozen=True)
class Bearing:
    """The packs in force where a firm works, from wide to narrow; the others; its places that none covers."""

    in_force: tuple[Pack, ...]
    others: tuple[Pack, ...]
    not_covered: tuple[str, ...]


def today_of(firm: Firm) -> date:
    """Today where the firm is."""
    return clock.now().astimezone(ZoneInfo(firm.time_zone)).date()


def places_of(firm: Firm) -> tuple[str, ...]:
    """The places whose rules apply at the firm's sites; its own, while it has no site."""
    listed = list(Site.objects.for_firm(firm).order_by().values_list("jurisdictions", flat=True))
    found = {place for places in listed for place in places}
    return tuple(sorted(found or firm.jurisdictions))


def labels_of(firm: Firm, day: date) -> list[Pack]:
    """The labels of the firm's products that are valid on a day, each as a pack."""
    return [
        pack
        for product in Product.objects.for_firm(firm)
        for pack in label_packs(_holding_only(product_part(product, None, day)))
    ]


def _holding_only(product: dict[str, Any]) -> TreatmentDocument:
    return read({"schema": "treatment-document/1", "record": {}, "mixes": [{"products": [product]}]})


def questions_for(firm: Firm, day: date) -> list[tuple[Pack, Question]]:
    """The open questions of the packs in force where a firm works."""
    return [(pack, asked) for pack in packs_for(firm, day).in_force for asked in pack.questions.values()]


def answers_to(firm: Firm, question: str) -> list[Determination]:
    """The firm's answers to a question, newest first."""
    rows = Determination.objects.for_firm(firm).filter(question=question)
    return list(rows.order_by("-valid_from", "-uuid"))


def holding(answers: Iterable[Determination], day: date) -> Determination | None:
    """The answer among these that holds on a day."""
    for answer in answers:
        if answer.valid_from <= day and (answer.valid_to is None or day <= answer.valid_to):
            return answer
    return None


def packs_for(firm: Firm, day: date, packs: Sequence[Pack] | None = None) -> Bearing:
    """How the packs (the registered ones if None) bear on a firm on a day."""
    known = registered_packs() if packs is None else packs
    places = places_of(firm)
    in_force = covering(known, places, day)
    return Bearing(
        tuple(in_force),
        tuple(pack for pack in known if pack not in in_force),
        tuple(not_covered(places, in_force)),
    )
