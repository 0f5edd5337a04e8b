"""Figures that must go together, and what no record can say, by hand."""

from datetime import datetime
from fractions import Fraction

from benchmarks.by_hand.reach import NOT_APPLICABLE, Hand, Names, quantity, rows, value
from compliance.facts_reader.contradictions import FORECAST_HOLDS
from compliance.facts_reader.judged import FIGURES
from compliance.rulebook.facts import Branch, Subject
from compliance.rulebook.kind import Judgement
from compliance.rulebook.sizes import Exact
from shared.geometry import slope_factor
from shared.quantities import UNITS
from shared.wording import Wording

NOT_RECEIVED = Wording("When the record came in is not known.", "No se sabe cuándo llegó el registro.")
NOT_INSIDE = Wording("The work was not inside a building.", "El trabajo no fue dentro de un edificio.")
NOT_STOOD_DOWN = Wording("The day was not stood down.", "El día no se suspendió.")
FIGURES_OF = {figures.name: figures for figures in FIGURES}


def find(hand: Hand) -> None:
    for index, mix in enumerate(rows(hand.root, "mixes")):
        figures_of_mix(hand, mix, f"mixes[{index}]")
    for surface in rows(hand.root, "surfaces"):
        area(hand, surface)
    for line in hand.facts.subjects["products"].subjects:
        what = {"what": FIGURES_OF["stock-and-mixed"].label}
        nothing = Judgement(NOT_APPLICABLE, "agreement/nothing", (line.path,), what)
        hand.say("everywhere/agreement/stock", nothing, line.name)
        marks(hand, line)
    forecast(hand)
    readings(hand)
    outside(hand)
    recorded, finished = (value(hand.root, f"timing.{name}_at") for name in ("recorded", "finished"))
    assert isinstance(recorded, datetime) and isinstance(finished, datetime) and recorded >= finished
    about = ("timing.recorded_at", "timing.finished_at")
    hand.met("everywhere/impossible/recorded", "agreement/no_contradiction", about)
    hand.let_be("everywhere/sending/within-a-day", ("context.received_at",), NOT_RECEIVED)
    for rule in ("nothing-done", "why"):
        hand.let_be(f"everywhere/stood-down/{rule}", ("record.result",), NOT_STOOD_DOWN)


def marks(hand: Hand, line: Subject) -> None:
    product = line.roots["product"]
    assert value(product, "kind") == "pesticide" and value(product, "regime") == "pesticide"
    number = f"{line.path}.registration_number"
    both = (number, f"{line.path}.regime")
    hand.met("everywhere/agreement/exempt-registered", "agreement/no_contradiction", both, whose=line.name)
    for rule, mark in (("kind", "kind"), ("exempt", "regime"), ("active", "kind")):
        about = (f"{line.path}.{mark}",)
        hand.met(f"everywhere/agreement/{rule}", "agreement/no_contradiction", about, whose=line.name)


def forecast(hand: Hand) -> None:
    names = ("weather.forecast.issued_at", "timing.started_at", "timing.finished_at")
    issued, started, finished = (value(hand.root, name) for name in names)
    assert isinstance(issued, datetime) and isinstance(started, datetime) and isinstance(finished, datetime)
    assert started - issued <= FORECAST_HOLDS and issued <= finished
    about = (names[0], names[2])
    hand.met("everywhere/agreement/forecast", "agreement/no_contradiction", about)
    hand.met("everywhere/forecast/issued", "record/met", (names[0],))


def outside(hand: Hand) -> None:
    assert value(hand.root, "site.indoors") is False
    hand.let_be("everywhere/agreement/indoors", ("site.indoors",), NOT_INSIDE)
    killers = [line for line in rows(hand.root, "treatment.products") if value(line, "kind") == "pesticide"]
    about = (f"{killers[0].path}.kind",)
    where = ("site.time_zone", "site.jurisdictions")
    hand.met("everywhere/agreement/time-zone", "agreement/no_contradiction", where)
    hand.met("everywhere/agreement/no-pesticide", "agreement/no_contradiction", about)


def mixed(mix: Branch) -> Exact:
    """Products and diluent together, in the diluent's unit; all of them volumes."""
    diluent = quantity(mix, "diluent.amount")
    parts = (quantity(line, "amount").to(diluent.unit) for line in rows(mix, "products"))
    return Exact(sum(parts, diluent.exact), diluent.unit)


def figures_of_mix(hand: Hand, mix: Branch, path: str) -> None:
    whole, applied = mixed(mix), quantity(mix, "applied")
    in_mix: Names = (f"{path}.products", f"{path}.diluent")
    stated = Exact(applied.to(whole.unit), whole.unit)
    agree(hand, "applied", "applied-within-mixed", stated, whole, (f"{path}.applied", *in_mix))
    left = quantity(mix, "left_over.amount")
    both = Exact(stated.value + left.to(whole.unit), whole.unit)
    about = (f"{path}.applied", f"{path}.left_over.amount", *in_mix)
    agree(hand, "left-over", "applied-and-left-over", both, whole, about)
    loads = sum((quantity(load, "volume").to(whole.unit) for load in rows(mix, "loads")), Fraction(0))
    agree(hand, "loads", "loads-and-mixed", Exact(loads, whole.unit), whole, (f"{path}.loads", *in_mix))
    on_each = sum((quantity(one, "applied").to(applied.unit) for one in rows(mix, "surfaces")), Fraction(0))
    about = (f"{path}.surfaces", f"{path}.applied")
    stated, all_of_it = Exact(on_each, applied.unit), Exact(applied.exact, applied.unit)
    agree(hand, "surfaces", "surfaces-and-applied", stated, all_of_it, about)
    started, finished = (value(hand.root, f"timing.{name}_at") for name in ("started", "finished"))
    assert isinstance(started, datetime) and isinstance(finished, datetime)
    (rig,) = rows(hand.root, "equipment")
    needed = Exact(applied.base / quantity(rig, "flow").base, "min")
    worked = Exact(Fraction(int((finished - started).total_seconds()), 60), "min")
    about = (f"{path}.applied", "timing.finished_at", "timing.started_at")
    agree(hand, "time", "time-and-flow", needed, worked, about)


def area(hand: Hand, surface: Branch) -> None:
    plan, treated = quantity(surface, "plan_area"), quantity(surface, "treated_area")
    rise, run = value(surface, "pitch.rise"), value(surface, "pitch.run")
    assert isinstance(rise, Fraction) and isinstance(run, Fraction)
    whole = Exact(plan.exact * slope_factor(rise, run), plan.unit)
    stated = Exact(treated.base / UNITS[plan.unit].factor, plan.unit)
    about = (f"{surface.path}.treated_area", f"{surface.path}.plan_area")
    agree(hand, "area", "area-within-slope", stated, whole, about, str(value(surface, "name")))


def agree(
    hand: Hand, rule: str, figures: str, stated: Exact, whole: Exact, about: Names, whose: str = ""
) -> None:
    assert stated.value <= whole.value * 102 / 100
    blanks = {"what": FIGURES_OF[figures].label, "observed": stated, "bound": whole}
    rule = f"everywhere/agreement/{rule}"
    hand.met(rule, "agreement/met", about, blanks, stated, whole, whose=whose)


def readings(hand: Hand) -> None:
    calm, wind, warm, humid = list[str](), list[str](), list[str](), list[str]()
    unsure = False
    for reading in rows(hand.root, "weather.readings"):
        path = reading.path
        assert value(reading, "calm") is not True
        calm.append(f"{path}.calm")
        unsure = unsure or value(reading, "wind_from") is None
        assert unsure or quantity(reading, "wind_from").exact <= 360
        wind.append(f"{path}.wind_from")
        assert -60 <= quantity(reading, "temperature").to("degC") <= 60
        warm += [f"{path}.temperature", f"{path}.temperature"]
        assert quantity(reading, "relative_humidity").to("percent") <= 100
        humid.append(f"{path}.relative_humidity")
    skies = tuple(f"{reading.path}.sky" for reading in rows(hand.root, "treatment.readings_between"))
    hand.met("everywhere/agreement/rain", "agreement/no_contradiction", skies)
    hand.met("everywhere/agreement/calm", "agreement/no_contradiction", tuple(calm))
    if unsure:
        unknown = Judgement(NOT_APPLICABLE, "agreement/not_all", tuple(wind))
        hand.say("everywhere/impossible/wind-from", unknown)
    else:
        hand.met("everywhere/impossible/wind-from", "agreement/no_contradiction", tuple(wind))
    hand.met("everywhere/impossible/temperature", "agreement/no_contradiction", tuple(warm))
    hand.met("everywhere/impossible/humidity", "agreement/no_contradiction", tuple(humid))
