"""An amount that is not there, as rules read it: what is missing, or why its members do not meet."""

from collections.abc import Sequence

from compliance.rulebook.facts import Branch, Leaf, member
from compliance.rulebook.sizes import Measured
from records.document.computed import NoAmount
from shared.quantities import Quantity


def of_member(item: Branch, name: str) -> Measured:
    """The quantity of that name, or what is missing to know it."""
    leaf = member(item, name)
    if isinstance(leaf, Leaf) and isinstance(leaf.value, Quantity):
        return Measured(leaf.value, leaf.about)
    lacks = leaf.lacks if isinstance(leaf, Leaf) else ()
    return Measured(None, lacks, lacks)


def unmeasured(amount: NoAmount) -> Measured:
    """Nothing to judge, for this reason."""
    return Measured(None, amount.paths, amount.paths, None if amount.is_missing else amount)


def unmeasured_sum(parts: Sequence[tuple[str, NoAmount]]) -> Measured:
    """Nothing to judge, for these parts of a sum have no amount, each with the prefix of its paths.

    What is missing comes first; only if nothing is, the first part whose members do not meet is named.
    """
    lacking = [(before, amount) for before, amount in parts if amount.is_missing]
    paths = tuple(before + path for before, amount in lacking or parts[:1] for path in amount.paths)
    return Measured(None, paths, paths, None if lacking else parts[0][1])
