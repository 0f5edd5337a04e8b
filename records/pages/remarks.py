"""What is said beside the fields of a form. Who says it, and by what rule, is not known here."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from records.document.paths import pattern_of
from records.forms.bound import fields_of, lists_of
from records.forms.sections import SECTIONS
from records.forms.table import Section, Words


@dataclass(frozen=True)
class Source:
    """Who says it, and what it asks for where the sentence leaves that out; `hangs_on` says what the firm
    itself has decided that this rests on."""

    cite: str
    asks: Words = ""
    doubt: Words = ""
    hangs_on: tuple[Words, ...] = ()
    advised: bool = False


@dataclass(frozen=True)
class Remark:
    """One sentence about members of the document, the one to mend first in front.

    `state` is a style's name (`not_met`, `cant_tell`, `to_do`, `met`), `state_words` says it.
    """

    about: tuple[str, ...]
    state: str
    state_words: Words
    words: Words
    sources: tuple[Source, ...]

    @property
    def advised(self) -> bool:
        """Whether no source demands it."""
        return all(source.advised for source in self.sources)


def said_once(remarks: Iterable[Remark]) -> list[Remark]:
    """The remarks with each sentence once, and all who say it as its sources.

    A sentence that another one repeats after naming a person or product is the same.
    """
    merged: list[Remark] = []
    for remark in remarks:
        at = next((at for at, each in enumerate(merged) if _say_the_same(each, remark)), None)
        if at is None:
            merged.append(remark)
        else:
            merged[at] = _together(merged[at], remark)
    return merged


def _say_the_same(one: Remark, other: Remark) -> bool:
    shorter, longer = sorted((str(one.words), str(other.words)), key=len)
    return one.state == other.state and (shorter == longer or longer.endswith(f": {shorter}"))


def _together(one: Remark, other: Remark) -> Remark:
    sources = tuple(dict.fromkeys((*one.sources, *other.sources)))
    return replace(max(one, other, key=lambda each: len(str(each.words))), sources=sources)


@dataclass(frozen=True)
class LimitInForce:
    """One limit as the crew should know it before it sprays, and who sets it; `quantity` is its word."""

    quantity: str
    of: Words
    bound: Words
    set_by: Words


@dataclass
class Remarks:
    """Everything said about a document."""

    remarks: list[Remark] = field(default_factory=list)
    limits: list[LimitInForce] = field(default_factory=list)

    def of_section(self, section: Section) -> list[Remark]:
        return [remark for remark in self.remarks if section_of(remark) is section]

    def limits_of(self, section: Section) -> tuple[list[LimitInForce], list[LimitInForce]]:
        """The limits that the section should show, and the others."""
        own = [limit for limit in self.limits if limit.quantity in section.limits]
        return own, [limit for limit in self.limits if limit not in own]


def section_of(remark: Remark) -> Section | None:
    """The section that holds the member to be mended first, by the longest prefix; None where none does."""
    return next((section for place in remark.about if (section := section_at(place))), None)


def section_at(path: str) -> Section | None:
    """The section whose business the member at `path` is."""
    found = [
        (len(prefix), section)
        for section in SECTIONS
        for prefix in section.prefixes
        if is_within(pattern_of(path), prefix)
    ]
    return max(found, key=lambda pair: pair[0])[1] if found else None


def is_within(place: str, prefix: str) -> bool:
    return place == prefix or place.startswith((f"{prefix}.", f"{prefix}["))


def place_remarks(blocks: Sequence[Any], remarks: Iterable[Remark], section: Section) -> list[Remark]:
    """Put each remark beside the field that it is about, and the section's others under their list.

    Beside an entry that could not be read nothing is said: it would be of the value before. Returns those of
    the section that have no place in it.
    """
    fields, lists = list(fields_of(blocks)), list(lists_of(blocks))
    homeless = []
    for remark in remarks:
        own = section_of(remark) is section
        home = _home(remark, fields) or (_home(remark, lists) if own else None)
        if home is not None:
            home.remarks.append(remark)
        elif own:
            homeless.append(remark)
    for place in (*fields, *lists):
        place.remarks = said_once(place.remarks)
    for unread in (each for each in fields if each.sentence):
        unread.remarks = []
    return said_once(homeless)


def _home(remark: Remark, places: Sequence[Any]) -> Any:
    for about in remark.about:
        around = [place for place in places if is_within(about, place.place)]
        if around:
            return max(around, key=lambda place: len(place.place))
    return None
