"""A treatment document and its context to facts."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, tzinfo

from compliance.facts_reader.derived import (
    items_of,
    mix_facts,
    product_facts,
    restricted_use,
    stage_of,
    stood_down,
    treatment_facts,
)
from compliance.facts_reader.exempt import with_exempt
from compliance.facts_reader.measures import Measures
from compliance.facts_reader.own_follow_ups import with_own_follow_ups
from compliance.facts_reader.restricted import with_restricted
from compliance.facts_reader.supervising import with_supervising
from compliance.facts_reader.tree import tree_of
from compliance.rulebook.facts import (
    Answer,
    Branch,
    Facts,
    Leaf,
    Node,
    Paths,
    Subject,
    Subjects,
    branches,
    member,
)
from records.document.context import Context
from records.document.days import moment_of, treatment_day
from records.document.types import TreatmentDocument
from shared.public_holidays import is_holiday
from shared.times import read_day, read_zone


def read_facts(document: TreatmentDocument, context: Context, on: date | None = None) -> Facts:
    """All facts of one treatment. `on` is the day of the check; it outranks the context's. Pure."""
    root = _root(document, context)
    day = treatment_day(document)
    places = document.site.jurisdictions if document.site else None
    return Facts(
        root=root,
        subjects=_subjects(document, context, root, day),
        day=day,
        day_lacks=() if day else ("timing.started_at",),
        on=on or (read_day(context.on) if context.on else None),
        stage=stage_of(document),
        places=None if not places else tuple(places),
        local=_clock_of(document),
        is_holiday=is_holiday,
        answers=_answers(context),
    )


def _root(document: TreatmentDocument, context: Context) -> Branch:
    """The tree of all facts; the mixes and their products carry what is computed of them."""
    tree = tree_of(document, "")
    beside = with_own_follow_ups(tree_of(context, "context"), document)
    members: dict[str, Node] = {**tree.members, "context": beside}
    root = Branch("", members)
    if "surfaces" in members:
        members["surfaces"] = with_exempt(document, root)
    members["treatment"] = treatment_facts(document, root)
    return root


def _clock_of(document: TreatmentDocument) -> Callable[[datetime], datetime]:
    zone = _zone(document)

    def local(moment: datetime) -> datetime:
        return moment.astimezone(zone) if moment.tzinfo else moment.replace(tzinfo=zone)

    return local


def _zone(document: TreatmentDocument) -> tzinfo:
    """The site's zone; without it the offset in which the start, else the plan, is written."""
    if document.site and document.site.time_zone:
        return read_zone(document.site.time_zone)
    moment = moment_of(document)
    return (moment.tzinfo if moment else None) or UTC


def _answers(context: Context) -> tuple[Answer, ...]:
    return tuple(
        Answer(
            one.question,
            one.answer.strip().casefold(),
            read_day(one.valid_from) if one.valid_from else None,
            read_day(one.valid_to) if one.valid_to else None,
        )
        for one in context.determinations or []
        if one.question is not None and one.answer is not None
    )


def _subjects(
    document: TreatmentDocument, context: Context, root: Branch, day: date | None
) -> dict[str, Subjects]:
    whole = Measures(document, context, root, day)
    mixes: list[Subject] = []
    products: list[Subject] = []
    for m, parts in enumerate(branches(items_of(member(root, "mixes")))):
        mix = mix_facts(document, parts, m, root)
        mixes.append(Subject(mix.path, {"mix": mix}, replace(whole, mix=m)))
        for p, line in enumerate(branches(items_of(member(parts, "products")))):
            product = product_facts(document, line, m, p)
            measures = replace(whole, mix=m, product=p)
            roots = {"product": product, "mix": mix}
            products.append(Subject(product.path, roots, measures, _name(product)))
    nothing: Paths = () if stood_down(document) else ("mixes",)
    without_products: Paths = ("mixes[0].products",) if mixes else nothing
    return {
        "document": Subjects((Subject("", {}, whole),)),
        "mixes": Subjects(tuple(mixes), nothing),
        "products": Subjects(tuple(products), without_products),
        "people": _people(document, root, whole),
        "surfaces": _surfaces(root, whole),
    }


def _surfaces(root: Branch, whole: Measures) -> Subjects:
    found = tuple(
        Subject(item.path, {"surface": item}, replace(whole, surface=n), _name(item))
        for n, item in enumerate(branches(items_of(member(root, "surfaces"))))
    )
    return Subjects(found, () if found else ("surfaces",))


def _people(document: TreatmentDocument, root: Branch, measures: Measures) -> Subjects:
    people = branches(items_of(member(root, "people")))
    restricted = restricted_use(document)
    told = [with_restricted(with_supervising(one, people), people, document, restricted) for one in people]
    found = tuple(Subject(one.path, {"person": one}, measures, _name(one)) for one in told)
    return Subjects(found, () if found else ("people",))


def _name(branch: Branch) -> str:
    name = member(branch, "name")
    return name.value if isinstance(name, Leaf) and isinstance(name.value, str) else ""
