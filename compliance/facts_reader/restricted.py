"""Whether a person sprayed, or mixed, a restricted-use product."""

from collections.abc import Sequence

from compliance.facts_reader.supervising import did
from compliance.rulebook.facts import Branch, Leaf
from records.document.types import TreatmentDocument
from shared.wording import Wording

_SEVERAL = Wording(
    "there are several mixes and several people, and no member says who used which mix",
    "hay varias mezclas y varias personas, y ningún dato dice quién usó cada mezcla",
)


def with_restricted(
    person: Branch, people: Sequence[Branch], document: TreatmentDocument, restricted: Leaf
) -> Branch:
    """The person with `sprayed_restricted` and `mixed_restricted`; `restricted`: whether any product is one."""
    in_all = all(any(line.restricted_use for line in mix.products or []) for mix in document.mixes or [])
    members = {
        f"{task}_restricted": _handled(person, people, task, restricted, in_all=in_all)
        for task in ("sprayed", "mixed")
    }
    return Branch(person.path, {**person.members, **members})


def _handled(person: Branch, people: Sequence[Branch], task: str, restricted: Leaf, *, in_all: bool) -> Leaf:
    done = did(person, task)
    for decides in (False, None):
        for known in (done, restricted):
            if known.value is decides:
                return known
    alone = all(did(one, task).value is False for one in people if one.path != person.path)
    if in_all or alone:
        return Leaf(True, done.about)
    return Leaf(None, done.about, done.about, _SEVERAL)
