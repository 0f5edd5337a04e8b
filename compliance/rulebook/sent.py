"""What is known beside the record of its notices: whom each was for, and whether it said something else."""

from collections.abc import Mapping
from dataclasses import dataclass

from compliance.rulebook.facts import Branch, Scope, branches, leaf_of
from compliance.rulebook.vocabulary import FactPath

_MARKS = ("otherwise", "lost")


@dataclass(frozen=True)
class Sent:
    """`whose`: the id of the person that a notice of this id was for; `otherwise`: ids of notices that said
    something else than the record does; `lost`: of those that came back, or to somebody else."""

    whose: Mapping[str, str]
    otherwise: frozenset[str]
    lost: frozenset[str]

    def is_for(self, notice: Branch) -> str:
        """The id of the person whom it was for; empty where that is not known."""
        return self.whose.get(id_of(notice), "")

    def said_otherwise(self, notice: Branch) -> bool:
        return id_of(notice) in self.otherwise or leaf_of(notice, "otherwise").value is True


NOTHING_SENT = Sent({}, frozenset(), frozenset())


def sent_of(path: FactPath, scope: Scope) -> Sent:
    found = branches(path.items(scope))
    persons = {id_of(one): leaf_of(one, "person").value for one in found}
    return Sent(
        {notice: person for notice, person in persons.items() if isinstance(person, str)},
        *(frozenset(id_of(one) for one in found if leaf_of(one, name).value is True) for name in _MARKS),
    )


def id_of(branch: Branch) -> str:
    found = leaf_of(branch, "id").value
    return found if isinstance(found, str) else ""
