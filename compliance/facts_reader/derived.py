"""Facts that are worked out from the document, each with the members that it comes from or lacks."""

from collections.abc import Callable, Iterable

from compliance.facts_reader.contradictions import contradictions, marks_of
from compliance.facts_reader.county import county_of
from compliance.facts_reader.incidents import incidents_of
from compliance.facts_reader.readings import at_start, belonging, between
from compliance.facts_reader.reentry import reentry_of
from compliance.facts_reader.treated import area_not_exempt, treated_surfaces
from compliance.rulebook.facts import Branch, Items, Leaf, Node, branches, member
from compliance.rulebook.sizes import Exact
from records.document import amounts
from records.document.areas import total_area, treated_by
from records.document.computed import Amount, NoAmount
from records.document.days import treatment_day
from records.document.types import TreatmentDocument
from shared.quantities import Quantity

WATER = ("pond", "stream", "lake", "shore", "wetland", "well")
_GROUND = ("lawn", "walk", "drive", "patio")
_STARTED = ("timing.started_at",)


def stage_of(document: TreatmentDocument) -> str:
    """How far the treatment has come: planned, started or finished.

    It is finished once its result, its finish or the completion of its record is stated.
    """
    timing = document.timing
    if document.record.result or (timing and (timing.finished_at or timing.recorded_at)):
        return "finished"
    return "started" if timing and timing.started_at else "planned"


def stood_down(document: TreatmentDocument) -> bool:
    """Whether nothing was applied that day."""
    return document.record.result == "stood-down"


def treatment_facts(document: TreatmentDocument, root: Branch) -> Branch:
    """The facts under `treatment`."""
    stage = stage_of(document)
    treated = treated_surfaces(document, root, finished=stage == "finished")
    return Branch(
        "treatment",
        {
            "day": _day(document),
            "county": county_of(document.site),
            "applied": Leaf(not stood_down(document), ("record.result",)),
            "restricted_use": restricted_use(document),
            "products": _products(document, root),
            "stage": Leaf(stage, ("timing.finished_at",)),
            "readings": belonging(root),
            "readings_between": between(root),
            "readings_at_start": at_start(root),
            "applicators": _people(root, lambda tasks: "sprayed" in tasks),
            "mixers": _people(root, lambda tasks: "mixed" in tasks),
            "helpers": _people(root, lambda tasks: not {"sprayed", "mixed"} & tasks),
            "water_features": _water(root),
            "surfaces": treated,
            "total_area": _total_area(document),
            "lawn_area": area_not_exempt(treated, ("lawn",)),
            "ground_area": area_not_exempt(treated, _GROUND),
            "reentry": reentry_of(document),
            "incidents": incidents_of(root),
            **contradictions(document),
        },
    )


def product_facts(document: TreatmentDocument, line: Branch, mix: int, product: int) -> Branch:
    """A product line with what is computed of it: product applied, rate and strength."""
    weighed = amounts.mixed(document, mix)
    strength = amounts.strength(document, mix, product)
    if isinstance(strength, NoAmount) and not isinstance(weighed, NoAmount):
        strength = amounts.strength(document, mix, product, "lb/(100 gal)")
    about = (f"{line.path}.amount",)
    stated = ((document.mixes or [])[mix].products or [])[product]
    derived = {
        **marks_of(stated, line.path),
        "applied": _leaf(amounts.product_applied(document, mix, product), about),
        "rate": _leaf(amounts.product_rate(document, mix, product), about),
        "strength": _leaf(strength, about),
    }
    return Branch(line.path, {**line.members, **derived})


def mix_facts(document: TreatmentDocument, parts: Branch, mix: int, root: Branch) -> Branch:
    """A mix with what is computed of it: area, coverage, what was mixed, and the surfaces it went on."""
    coverage = [amount for _, amount in amounts.coverage(document, mix)]
    unknown = next((amount for amount in coverage if isinstance(amount, NoAmount)), None)
    known = [amount for amount in coverage if isinstance(amount, Amount)]
    worst = unknown or max(known, key=lambda amount: amount.base)
    derived: dict[str, Node] = {
        "area": _leaf(total_area(document, mix), ("surfaces",)),
        "coverage": _leaf(worst, (f"{parts.path}.applied",)),
        "mixed": _leaf(amounts.mixed(document, mix), (f"{parts.path}.products",)),
        "treated": _treated(document, root, mix),
    }
    return Branch(parts.path, {**parts.members, **derived})


def items_of(node: Node) -> Items:
    """A list; one that is left out has no items and is marked absent."""
    if isinstance(node, Items):
        return node
    paths = node.lacks if isinstance(node, Leaf) else (node.path,)
    return Items((), paths, paths, absent=True)


def _leaf(amount: Amount | NoAmount, about: tuple[str, ...]) -> Leaf:
    if isinstance(amount, NoAmount):
        return Leaf(None, amount.paths, amount.paths, None if amount.is_missing else amount)
    return Leaf(Exact(amount.exact, amount.unit), about)


def _day(document: TreatmentDocument) -> Leaf:
    day = treatment_day(document)
    if day is None:
        return Leaf(None, _STARTED, _STARTED)
    started = document.timing and document.timing.started_at
    return Leaf(day, _STARTED if started else ("timing.planned_at",))


def restricted_use(document: TreatmentDocument) -> Leaf:
    """Whether any product that was applied is for restricted use."""
    if stood_down(document):
        return Leaf(False, ("record.result",))
    lines = {
        f"mixes[{m}].products[{p}].restricted_use": line.restricted_use
        for m, mix in enumerate(document.mixes or [])
        for p, line in enumerate(mix.products or [])
    }
    restricted = tuple(path for path, value in lines.items() if value)
    if restricted:
        return Leaf(True, restricted)
    lacks = tuple(path for path, value in lines.items() if value is None) if lines else ("mixes",)
    return Leaf(None, lacks, lacks) if lacks else Leaf(False, tuple(lines))


def _products(document: TreatmentDocument, root: Branch) -> Items:
    """The product lines of all mixes. Where something was applied there is one, though it may not be stated."""
    mixes = items_of(member(root, "mixes"))
    lines = [items_of(member(mix, "products")) for mix in branches(mixes)]
    stated = tuple(line for products in lines for line in products.items)
    lacks = (*mixes.lacks, *(path for products in lines for path in products.lacks))
    if not (stated or lacks or stood_down(document)):
        lacks = ("mixes",)
    return Items(stated, ("mixes",), lacks)


def _people(root: Branch, wanted: Callable[[set[object]], bool]) -> Items:
    people = items_of(member(root, "people"))
    chosen, lacks = [], list(people.lacks)
    for person in people.items:
        tasks = items_of(member(person, "tasks")) if isinstance(person, Branch) else people
        if tasks.absent:
            lacks += tasks.lacks
        elif wanted({task.value for task in tasks.items if isinstance(task, Leaf)}):
            chosen.append(person)
    return Items(tuple(chosen), people.about, tuple(lacks), people.absent)


def _water(root: Branch) -> Items:
    site = member(root, "site")
    features = items_of(member(site, "features") if isinstance(site, Branch) else site)
    if features.absent:
        return Items((), ("site.features",), ("site.features",), absent=True)
    kinds = [(item, member(item, "kind")) for item in features.items if isinstance(item, Branch)]
    water = tuple(item for item, kind in kinds if isinstance(kind, Leaf) and kind.value in WATER)
    lacks = tuple(path for _, kind in kinds if isinstance(kind, Leaf) for path in kind.lacks)
    return Items(water, features.about, lacks)


def _total_area(document: TreatmentDocument) -> Leaf:
    areas = [surface.treated_area for surface in document.surfaces or []]
    lacks = tuple(f"surfaces[{number}].treated_area" for number, area in enumerate(areas) if area is None)
    if lacks or not areas:
        return Leaf(None, lacks or ("surfaces",), lacks or ("surfaces",))
    return Leaf(_sum(area for area in areas if area), ("surfaces",))


def _sum(areas: Iterable[Quantity]) -> Exact:
    several = list(areas)
    unit = several[0].unit
    return Exact(sum((area.to(unit) for area in several[1:]), several[0].exact), unit)


def _treated(document: TreatmentDocument, root: Branch, mix: int) -> Items:
    surfaces, path = items_of(member(root, "surfaces")), f"mixes[{mix}].surfaces"
    if surfaces.absent or (document.mixes or [])[mix].surfaces is None:
        return surfaces if surfaces.absent else Items((), (path,), (path,), absent=True)
    treated = treated_by(document, mix)
    return Items(tuple(surfaces.items[index] for index in treated.surfaces), (path,), treated.lacks)
