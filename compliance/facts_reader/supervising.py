"""Whether a person supervised one who sprayed."""

from collections.abc import Sequence

from compliance.rulebook.facts import Branch, Items, Leaf, member


def with_supervising(person: Branch, people: Sequence[Branch]) -> Branch:
    """The person with `supervises`: unknown where it is not stated what a supervised person did."""
    led = [one for one in people if _names(member(one, "supervised_by"), person)]
    return Branch(person.path, {**person.members, "supervises": _supervises(led)})


def _supervises(led: Sequence[Branch]) -> Leaf:
    tasks = [(one, member(one, "tasks")) for one in led]
    for one, done in tasks:
        if isinstance(done, Items) and any(
            isinstance(task, Leaf) and task.value == "sprayed" for task in done.items
        ):
            return Leaf(True, (f"{one.path}.supervised_by",))
    lacks = tuple(path for _, done in tasks if isinstance(done, Leaf) for path in done.lacks)
    about = lacks or tuple(f"{one.path}.supervised_by" for one in led)
    return Leaf(None if lacks else False, about, lacks)


def _names(by: object, person: Branch) -> bool:
    """Whether a reference names the person, by id or by name."""
    own = (member(person, name) for name in ("id", "name"))
    known = [leaf.value for leaf in own if isinstance(leaf, Leaf) and leaf.value is not None]
    return isinstance(by, Leaf) and by.value in known
