"""What a document answers to each code of a notice's contents; '' where no data can, and a blank is left."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from compliance.papers.notice.addresses import address_lines
from compliance.papers.notice.label_words import BLANK, by_product, precautions, warnings
from compliance.papers.speech import Speech, joined
from records.document.types import Licence, Product, TreatmentDocument
from records.poison_lines import PoisonLine
from shared.quantities import Quantity, compare
from shared.wording import Wording


@dataclass(frozen=True)
class Told:
    """The document that is told of, and what stands beside it: the dates, the time band, the poison line."""

    document: TreatmentDocument
    planned_at: datetime | None
    until: datetime | None
    alternates: Sequence[date]
    dates: int
    line: PoisonLine

    @property
    def products(self) -> list[Product]:
        """Every product that is planned, each once."""
        used = [one for mix in self.document.mixes or () for one in mix.products or ()]
        return list({(one.name, one.registration_number): one for one in used}.values())


def answer(code: str, told: Told, speech: Speech) -> str:
    """The text to this code in this language."""
    find = _ANSWERS.get(code)
    return find(told, speech) if find else ""


def _place(told: Told, _speech: Speech) -> str:
    return joined(address_lines(told.document.site.address)) if told.document.site else ""


def _date(told: Told, speech: Speech) -> str:
    return speech.long_date(told.planned_at.date()) if told.planned_at else ""


def _alternates(told: Told, speech: Speech) -> str:
    """The dates that are named, and a blank for each that must be and is not."""
    lacking = [BLANK] * (told.dates - len(told.alternates))
    return "\n".join([*(speech.long_date(day) for day in told.alternates), *lacking])


def _time(told: Told, speech: Speech) -> str:
    if not told.planned_at:
        return ""
    start = f"{told.planned_at:%H:%M}"
    if told.until:
        return speech.word("between", start=start, end=f"{told.until:%H:%M}")
    return speech.word("about", start=start)


def _products(told: Told, _speech: Speech) -> str:
    return "\n".join(one.name or "" for one in told.products)


def _numbers(told: Told, speech: Speech) -> str:
    return by_product(told.products, speech, lambda one: one.registration_number or "")


def _actives(told: Told, speech: Speech) -> str:
    def said(product: Product) -> str:
        each = product.active_ingredients or ()
        return joined(joined((one.name, one.percent and f"{one.percent} %"), " ") for one in each)

    return by_product(told.products, speech, said)


def _purpose(told: Told, speech: Speech) -> str:
    targets = speech.all_listed("target", told.document.targets)
    kinds = dict.fromkeys(one.kind for one in told.document.surfaces or () if one.kind)
    surfaces = speech.all_listed("surface_kind", kinds)
    if targets and surfaces:
        return speech.word("against", targets=targets, surfaces=surfaces)
    return speech.word("against-all", targets=targets) if targets else ""


def _precautions(told: Told, speech: Speech) -> str:
    return precautions(told.document, told.products, speech)


def _warnings(told: Told, speech: Speech) -> str:
    return warnings(told.document, told.products, speech)


def _reentry(told: Told, speech: Speech) -> str:
    """The longest time that a label sets; until dry where none sets one: common practice, no source."""
    labels = [one.label for one in told.products]
    if not labels or any(label is None or label.limits is None for label in labels):
        return ""
    stated = [limit for label in labels if label for limit in label.limits or () if limit.of == "reentry"]
    lengths = [one.min for one in stated if isinstance(one.min, Quantity)]
    if len(lengths) < len(stated):
        return ""
    if not lengths:
        return speech.word("until-dry")
    longest = lengths[0]
    for length in lengths:
        longest = length if compare(length, longest) > 0 else longest
    return speech.word("stay-out", length=speech.quantity(longest))


def _firm(told: Told, _speech: Speech) -> str:
    firm = told.document.firm
    return joined((firm.name, *address_lines(firm.address))) if firm else ""


def _contact(told: Told, _speech: Speech) -> str:
    firm = told.document.firm
    return (firm and firm.phone) or ""


def _applicator(told: Told, _speech: Speech) -> str:
    return joined(one.name for one in told.document.people or () if one.role in ("applicator", "licensee"))


def _licence(told: Told, speech: Speech) -> str:
    """Those of the firm and of who sprays that an authority of the site gave and that hold on the day."""
    document = told.document
    places = (document.site and document.site.jurisdictions) or ()
    firm = ((document.firm and document.firm.licences) or (), speech.word("the-firm"))
    people = [(one.licences or (), one.name) for one in document.people or () if one.role != "helper"]
    return "\n".join(
        joined((one.number, f"({whose})" if whose else ""), " ")
        for licences, whose in (firm, *people)
        for one in licences
        if one.number and one.authority in places and _holds(one, told.planned_at)
    )


def _holds(licence: Licence, planned_at: datetime | None) -> bool:
    day = planned_at.date().isoformat() if planned_at else ""
    return (licence.valid_from or "") <= day <= (licence.valid_to or "9999") if day else True


def _poison_line(told: Told, _speech: Speech) -> str:
    return told.line.number


def _sentence(name: str) -> Callable[[Told, Speech], str]:
    return lambda _told, speech: speech.word(name)


_ANSWERS: Mapping[str, Callable[[Told, Speech], str]] = {
    "place": _place,
    "date": _date,
    "alternates": _alternates,
    "time": _time,
    "products": _products,
    "registration_numbers": _numbers,
    "active_ingredients": _actives,
    "purpose": _purpose,
    "precautions": _precautions,
    "reentry": _reentry,
    "label_warnings": _warnings,
    "firm": _firm,
    "applicator": _applicator,
    "licence": _licence,
    "contact": _contact,
    "poison_line": _poison_line,
    "ask_for_dates": _sentence("ask-for-dates"),
    "registry": _sentence("registry-kept"),
}


def own_label(said: Wording, speech: Speech) -> str:
    """The law's own words as a label."""
    text = said.say(speech.language)
    return text[:1].upper() + text[1:]
