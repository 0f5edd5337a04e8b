"""What the register had of a version of a record while it held, as far as a search asks for it."""

from collections.abc import Collection
from typing import Any

from records.document.as_signed import as_signed
from records.document.days import treatment_day
from records.models import SignedRecord, Treatment
from records.register.fitting import Held
from records.register.terms import Term, strongest_wind, terms_of
from records.register.wanted import RegisterFilter

COLUMNS = ("pk", "treatment_id", "kind", "record", "section_lines", "treatment__number", "treatment__day")
"""What is read of a version."""
_ASKED_OF = {
    "day_from": ("timing", "site"), "day_to": ("timing", "site"),
    "site": ("site",), "county": ("site",), "place": ("site",), "customer": ("customer",),
    "product": ("mixes",), "registration": ("mixes",), "ingredient": ("mixes",),
    "applicator": ("people",), "licence": ("people",), "incident": ("incidents",),
    "wind_least": ("weather",), "wind_most": ("weather",), "words": ("site", "customer", "mixes", "people"),
}  # fmt: skip
"""The sections of a document in which the answer to a part of a search stands."""
_STATES = {
    SignedRecord.Kind.SIGNED: Treatment.State.SIGNED,
    SignedRecord.Kind.CORRECTED: Treatment.State.CORRECTED,
    SignedRecord.Kind.VOID: Treatment.State.VOID,
}


def sections_asked(wanted: RegisterFilter) -> set[str]:
    """To read all of a document takes many times as long."""
    asked = (_ASKED_OF.get(name, ()) for name in wanted.as_json())
    return {section for sections in asked for section in sections}


def held_by(version: Any, wanted: RegisterFilter, outcome: str, found: Collection[Term]) -> Held:
    """Of a row of `COLUMNS`, with what its check found. What the search does not ask for may be left out."""
    document = as_signed(bytes(version.record), bytes(version.section_lines), sections_asked(wanted))
    return Held(
        number=version.treatment__number,
        day=treatment_day(document) or version.treatment__day,
        state=_STATES[SignedRecord.Kind(version.kind)],
        outcome=outcome,
        wind=strongest_wind(document),
        terms={*terms_of(document), *found},
    )
