"""The buttons that stand a day down: each with its reason and what it fills in without a connection."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from records.document.edits import Edit
from records.document.words import WORD_LISTS
from records.forms.fills import Fills
from records.forms.posted import Posted
from records.forms.table import Words

STOOD_DOWN = "stood-down"


@dataclass
class ReasonButtons:
    """`chosen` is the reason that the record states already."""

    title: Words
    reasons: list[tuple[str, str, Fills]]
    chosen: str
    kind: str = "reasons"


def members_for(reason: str) -> dict[str, str]:
    """By path, what the record says of a day that is stood down for this reason."""
    return {"record.result": STOOD_DOWN, "record.why": reason}


def reason_dropped(posted: Posted, edits: Sequence[Edit], document: Mapping[str, Any]) -> list[Edit]:
    """The edit that takes the reason out where the edits say that it was treated after all."""
    said = {edit.path: edit.value for edit in edits}
    stands = (document.get("record") or {}).get("why")
    if said.get("record.result") != "treated" or "record.why" in said or not stands:
        return []
    return [posted.edit("record.why", None)]


def reason_buttons(title: Words, document: Mapping[str, Any], language: str) -> ReasonButtons:
    record = document.get("record") or {}
    chosen = record.get("why") or "" if record.get("result") == STOOD_DOWN else ""
    reasons = [
        (word, label.say(language), [[f"v:{path}", value] for path, value in members_for(word).items()])
        for word, label in WORD_LISTS["stand_down_reason"].items()
    ]
    return ReasonButtons(title, reasons, chosen)
