"""Whether only exempt products went on a surface."""

from compliance.rulebook.facts import Branch, Items, Leaf, Node, branches, member
from records.document.areas import treated_by
from records.document.types import TreatmentDocument


def with_exempt(document: TreatmentDocument, root: Branch) -> Node:
    """The surfaces, each with `only_exempt`. A mix of which it is not said where it went counts on each."""
    surfaces = member(root, "surfaces")
    if not isinstance(surfaces, Items):
        return surfaces
    mixes = [one for one in [member(root, "mixes")] if isinstance(one, Items)]
    parts = [mix for items in mixes for mix in branches(items)]
    treated = [treated_by(document, place) for place in range(len(parts))]
    found: list[Node] = []
    for number, surface in enumerate(branches(surfaces)):
        on_it = [
            mix for mix, one in zip(parts, treated, strict=True) if number in one.surfaces or one.lacks
        ]
        members = {**surface.members, "only_exempt": _only_exempt(on_it, surface, stated=bool(parts))}
        found.append(Branch(surface.path, members))
    return Items(tuple(found), surfaces.about, surfaces.lacks, surfaces.absent)


def _only_exempt(mixes: list[Branch], surface: Branch, *, stated: bool) -> Leaf:
    if not mixes:
        return Leaf(False, (surface.path,)) if stated else Leaf(None, ("mixes",), ("mixes",))
    lists = [member(mix, "products") for mix in mixes]
    lines = [line for one in lists if isinstance(one, Items) for line in branches(one)]
    regimes = [regime for line in lines if isinstance(regime := member(line, "regime"), Leaf)]
    for regime in regimes:
        if regime.why is None and regime.value != "exempt":
            return Leaf(False, regime.about)
    unsure = next((regime for regime in regimes if regime.why), None)
    if unsure:
        return unsure
    lacks = tuple(path for one in lists if isinstance(one, Leaf) for path in one.lacks)
    lacks = lacks or (() if lines else ("mixes",))
    return Leaf(None if lacks else True, tuple(line.path for line in lines), lacks)
