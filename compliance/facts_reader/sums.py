"""By how much the sums on a record differ from the whole; nothing where a part is not stated."""

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from compliance.rulebook.facts import Exact, Measured
from records.document import amounts
from records.document.computed import NoAmount
from records.document.types import TreatmentDocument
from shared.quantities import UNITS, Quantity

Found = tuple[Measured, ...]


def unaccounted(document: TreatmentDocument, mix: int, unit: str) -> Found:
    """Applied and left over against what was mixed. What was left over and sprayed on a surface is counted in
    what was applied; where nothing is said of left-overs, only an excess counts."""
    parts, whole = (document.mixes or [])[mix], amounts.mixed(document, mix)
    if not parts.applied or isinstance(whole, NoAmount):
        return ()
    left = parts.left_over.amount if parts.left_over and not parts.left_over.surface else None
    there = [parts.applied, left] if left else [parts.applied]
    if {one.dimension for one in there} != {whole.dimension}:
        return ()
    total = sum((one.base for one in there), Fraction(0))
    short = whole.base - total if parts.left_over else Fraction(0)
    about = (f"mixes[{mix}].applied", f"mixes[{mix}].left_over.amount")
    return _share(max(short, total - whole.base), whole.base, unit, about[: len(there)])


def surfaces_differ(document: TreatmentDocument, mix: int, unit: str) -> Found:
    """The amounts on the surfaces against what was applied."""
    parts = (document.mixes or [])[mix]
    on_each = [one.applied for one in parts.surfaces or []]
    if not parts.applied:
        return ()
    path = f"mixes[{mix}].surfaces"
    return _difference(on_each, parts.applied.base, parts.applied.dimension, unit, path)


def loads_differ(document: TreatmentDocument, mix: int, unit: str) -> Found:
    """The loads against what was mixed."""
    whole = amounts.mixed(document, mix)
    if isinstance(whole, NoAmount):
        return ()
    loads = [load.volume for load in (document.mixes or [])[mix].loads or []]
    return _difference(loads, whole.base, whole.dimension, unit, f"mixes[{mix}].loads")


SUMS: Mapping[str, Callable[[TreatmentDocument, int, str], Found]] = {
    "unaccounted": unaccounted,
    "surfaces_differ": surfaces_differ,
    "loads_differ": loads_differ,
}


def _difference(
    parts: Sequence[Quantity | None], whole: Fraction, dimension: str, unit: str, path: str
) -> Found:
    there = [part for part in parts if part]
    if not there or len(there) < len(parts) or {part.dimension for part in there} != {dimension}:
        return ()
    return _share(abs(sum((part.base for part in there), -whole)), whole, unit, (path,))


def _share(differs: Fraction, whole: Fraction, unit: str, about: tuple[str, ...]) -> Found:
    if not whole:
        return ()
    return (Measured(Exact(100 * differs / whole / UNITS[unit].factor, unit), about),)
