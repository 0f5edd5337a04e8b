"""What the product's label allows and asks for, by hand."""

from datetime import date, datetime
from fractions import Fraction

from benchmarks.by_hand.everywhere import mixed
from benchmarks.by_hand.reach import NOT_APPLICABLE, Hand, quantity, rows, value, words
from compliance.facts_reader import VOCABULARY
from compliance.rulebook.bounds import Bounds
from compliance.rulebook.facts import Branch, Subject
from compliance.rulebook.kind import Judgement, Listed
from compliance.rulebook.kinds.validity import Span
from compliance.rulebook.sizes import Exact, Size
from records.document.words import WORD_LISTS
from shared.quantities import UNITS, Quantity

MEASURES = VOCABULARY.measures
KINDS, WEAR = WORD_LISTS["surface_kind"], WORD_LISTS["ppe"]


def find(hand: Hand) -> None:
    for line in hand.facts.subjects["products"].subjects:
        product, mix = line.roots["product"], line.roots["mix"]
        prefix = f"label/{value(product, 'registration_number')}"
        limits(hand, line, prefix)
        surfaces(hand, product, mix, prefix)
        validity(hand, product, prefix)
        assert set(words(hand.root, "targets")) <= set(words(product, "label.targets"))
        hand.met(f"{prefix}/targets", "targets/met", ("targets",))
        wear(hand, product, prefix)


def limits(hand: Hand, line: Subject, prefix: str) -> None:
    product, mix = line.roots["product"], line.roots["mix"]
    bounds = {value(one, "of"): one for one in rows(product, "label.limits")}
    readings = rows(hand.root, "treatment.readings")
    windiest = max(readings, key=lambda reading: quantity(reading, "wind_speed").base)
    wind = quantity(windiest, "wind_speed")
    within(hand, prefix, "wind_speed", wind, bounds["wind_speed"], (f"{windiest.path}.wind_speed",))
    assert "gust" not in bounds and not any(value(reading, "gust") for reading in readings)
    hand.say(f"{prefix}/gust_beside_wind", Judgement(NOT_APPLICABLE, "nothing_to_judge", ()))
    (on,) = rows(mix, "surfaces")
    (treated,) = [one for one in rows(hand.root, "surfaces") if value(one, "name") == value(on, "surface")]
    most = bounds["coverage"]
    unit = quantity(most, "max").unit
    per_area = quantity(on, "applied").base / quantity(treated, "treated_area").base / UNITS[unit].factor
    within(hand, prefix, "coverage", Exact(per_area, unit), most, (f"{on.path}.applied",))
    share = quantity(product, "amount").base / mixed(mix).base * 100
    within(hand, prefix, "dilution", Exact(share, "percent"), bounds["dilution"], (f"{line.path}.amount",))
    dry_until, finished = (
        value(hand.root, "weather.forecast.dry_until"),
        value(hand.root, "timing.finished_at"),
    )
    assert isinstance(dry_until, datetime) and isinstance(finished, datetime)
    dry = Exact(Fraction(int((dry_until - finished).total_seconds()), 3600), "hour")
    about = ("weather.forecast.dry_until", "timing.finished_at")
    within(hand, prefix, "hours_dry_after", dry, bounds["hours_dry_after"], about)
    assert not line.measure("days_between", "day")
    between = Bounds(min=quantity(bounds["days_between"], "min"))
    hand.met(f"{prefix}/days_between", "interval/first", ("context.earlier",), bound=between)


def within(hand: Hand, prefix: str, name: str, size: Size, stated: Branch, about: tuple[str, ...]) -> None:
    least, most = value(stated, "min"), value(stated, "max")
    assert not isinstance(size, int)
    assert not isinstance(least, Quantity) or least.base <= size.base
    assert not isinstance(most, Quantity) or size.base <= most.base
    bounds = Bounds(least, most)  # type: ignore[arg-type]
    measure = MEASURES[name]
    blanks = {"quantity": measure.label, "observed": size, "bound": bounds}
    hand.met(f"{prefix}/{name}", "limit/met", about, blanks, size, bounds, measure.mend)


def surfaces(hand: Hand, product: Branch, mix: Branch, prefix: str) -> None:
    treated = rows(mix, "treated")
    kinds, materials = words(product, "label.sites"), words(product, "label.not_on")
    assert all(value(one, "kind") in kinds and value(one, "material") not in materials for one in treated)
    listed = Listed(tuple(KINDS[str(value(one, "kind"))] for one in treated))
    about = tuple(f"{one.path}.kind" for one in treated)
    hand.met(f"{prefix}/sites", "surfaces/kinds_listed", about, {"what": listed})
    about = tuple(f"{one.path}.material" for one in treated)
    ruled_out = Listed(tuple(str(one) for one in materials))
    hand.met(f"{prefix}/not_on", "surfaces/not_listed", about, {"what": ruled_out})


def validity(hand: Hand, product: Branch, prefix: str) -> None:
    first, last, day = value(product, "label.valid_from"), value(product, "label.valid_to"), hand.facts.day
    assert day and isinstance(first, date) and last is None and first <= day
    span = Span(first, None)
    about = (f"{product.path}.label.valid_from",)
    blanks = {"day": day.isoformat(), "bound": span}
    hand.met(f"{prefix}/validity", "validity/met", about, blanks, day.isoformat(), span.say("en"))


def wear(hand: Hand, product: Branch, prefix: str) -> None:
    asked = words(product, "label.ppe")
    for person in rows(hand.root, "people"):
        assert set(asked) <= set(words(person, "ppe"))
        blanks = {"wear": Listed(tuple(WEAR[str(name)] for name in asked))}
        hand.met(f"{prefix}/ppe", "ppe/met", (f"{person.path}.ppe",), blanks)
