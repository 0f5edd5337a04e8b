"""Whether only exempt products, or only granules by hand, went on a surface."""

from compliance.rulebook.facts import Branch, Items, Leaf, Node, branches, leaf_of, member
from records.document.areas import treated_by
from records.document.types import TreatmentDocument

_GRANULES = "granules-by-hand"


def with_exempt(document: TreatmentDocument, root: Branch) -> Node:
    """The surfaces, each with `only_exempt` and `only_granules`. A mix of which it is not said where it went
    counts on each."""
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
        derived = {
            "only_exempt": _only_exempt(on_it, surface, stated=bool(parts)),
            "only_granules": _only_granules(on_it, root),
        }
        found.append(Branch(surface.path, {**surface.members, **derived}))
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


def _only_granules(mixes: list[Branch], root: Branch) -> Leaf:
    """By the rig of each mix; where a mix names none, by all that were used, if they agree."""
    equipment = member(root, "equipment")
    rigs = branches(equipment) if isinstance(equipment, Items) else []
    if not rigs:
        return Leaf(False, ("equipment",))
    used = [(mix, _rigs_of(mix, rigs)) for mix in mixes] or [(root, rigs)]
    lacks: list[str] = []
    about: list[str] = []
    for mix, those in used:
        methods = [leaf_of(rig, "method") for rig in those]
        about += [path for method in methods for path in method.about]
        by_hand = {method.value == _GRANULES for method in methods if method.value is not None}
        unstated = [path for method in methods for path in method.lacks]
        if by_hand == {False} and not unstated:
            return Leaf(False, tuple(about))
        lacks += unstated or ([leaf_of(mix, "equipment").about[0]] if len(by_hand) > 1 else [])
    return Leaf(None if lacks else True, tuple(about), tuple(lacks))


def _rigs_of(mix: Branch, rigs: list[Branch]) -> list[Branch]:
    named = leaf_of(mix, "equipment").value
    own = [rig for rig in rigs if named in (leaf_of(rig, "id").value, leaf_of(rig, "name").value)]
    return own if named is not None and own else rigs
