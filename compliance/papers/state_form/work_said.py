"""What was put on and in which wind, as an official form asks for it: a line for each product or reading."""

from collections.abc import Callable, Sequence

from compliance.papers.record_sheet.rates import rate_said, strength_said
from compliance.papers.speech import Speech, joined
from records.document import amounts
from records.document.computed import NoAmount
from records.document.types import Product, Reading, TreatmentDocument

Lines = list[str]
Say = Callable[[TreatmentDocument, Speech], Lines]
_DIGITS = 4


def _products(document: TreatmentDocument) -> list[tuple[int, int, Product]]:
    mixes = enumerate(document.mixes or ())
    return [(mix, line, one) for mix, parts in mixes for line, one in enumerate(parts.products or ())]


def product(document: TreatmentDocument, _speech: Speech) -> Lines:
    return [one.name or "" for *_place, one in _products(document)]


def registration(document: TreatmentDocument, speech: Speech) -> Lines:
    exempt = speech.word("mix/exempt")
    return [
        one.registration_number or (exempt if one.regime == "exempt" else "")
        for *_place, one in _products(document)
    ]


def product_applied(document: TreatmentDocument, speech: Speech) -> Lines:
    found = [amounts.product_applied(document, mix, line) for mix, line, _one in _products(document)]
    return ["" if isinstance(one, NoAmount) else speech.computed(one.exact, one.unit, _DIGITS) for one in found]


def _by_product(say: Callable[..., str]) -> Say:
    def lines(document: TreatmentDocument, speech: Speech) -> Lines:
        nothing = (speech.word("mix/not-computable"), speech.word("head/not-recorded"))
        found = [say(document, mix, line, one, speech) for mix, line, one in _products(document)]
        return ["" if said in nothing else said for said in found]

    return lines


def _readings(document: TreatmentDocument) -> Sequence[Reading]:
    return (document.weather and document.weather.readings) or ()


def _read(say: Callable[[Reading, Speech], str]) -> Say:
    """What each reading says; of several, when it was."""

    def lines(document: TreatmentDocument, speech: Speech) -> Lines:
        readings = _readings(document)
        times = [speech.time(one.at) if len(readings) > 1 else "" for one in readings]
        found = [say(one, speech) for one in readings]
        return [said and joined((at, said), ": ") for at, said in zip(times, found, strict=True)]

    return lines


def _wind_from(reading: Reading, speech: Speech) -> str:
    if reading.calm:
        return speech.word("conditions/calm")
    variable = speech.word("conditions/variable") if reading.wind_variable else ""
    return joined((speech.direction(reading.wind_from), variable))


def _wind_speed(reading: Reading, speech: Speech) -> str:
    return speech.quantity(reading.wind_speed) or (speech.word("conditions/calm") if reading.calm else "")


def _temperature(reading: Reading, speech: Speech) -> str:
    return speech.quantity(reading.temperature)


product_rate, strength = _by_product(rate_said), _by_product(strength_said)
wind_from, wind_speed, temperature = _read(_wind_from), _read(_wind_speed), _read(_temperature)
