"""Who sprayed under a person's supervision."""

from collections.abc import Sequence

from compliance.rulebook.facts import Branch, Items, Leaf, member


def with_supervising(person: Branch, people: Sequence[Branch]) -> Branch:
    """The person with `led`, who sprayed under them, and `supervises`, whether anybody did: unknown where it is
    not stated what a supervised person did."""
    led = [one for one in people if _names(member(one, "supervised_by"), person)]
    sprayed = [(one, did(one, "sprayed")) for one in led]
    lacks = tuple(path for _, answer in sprayed for path in answer.lacks)
    under = Items(tuple(one for one, answer in sprayed if answer.value), ("people",), lacks)
    return Branch(person.path, {**person.members, "supervises": _supervises(led, under), "led": under})


def did(person: Branch, task: str) -> Leaf:
    """Whether the person did a task; unknown where no tasks are stated."""
    done = member(person, "tasks")
    if not isinstance(done, Items):
        lacks = done.lacks if isinstance(done, Leaf) else ()
        return Leaf(None, lacks, lacks)
    told = any(isinstance(each, Leaf) and each.value == task for each in done.items)
    return Leaf(told, (f"{person.path}.tasks",))


def _supervises(led: Sequence[Branch], under: Items) -> Leaf:
    for one in under.items:
        if isinstance(one, Branch):
            return Leaf(True, (f"{one.path}.supervised_by",))
    about = under.lacks or tuple(f"{one.path}.supervised_by" for one in led)
    return Leaf(None if under.lacks else False, about, under.lacks)


def _names(by: object, person: Branch) -> bool:
    """Whether a reference names the person, by id or by name."""
    own = (member(person, name) for name in ("id", "name"))
    known = [leaf.value for leaf in own if isinstance(leaf, Leaf) and leaf.value is not None]
    return isinstance(by, Leaf) and by.value in known
