"""Kind `ppe`: what those who handle a product must wear."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Self

from compliance.rulebook.facts import Items, Leaf, Scope
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.reading import Params, each, one_of
from compliance.rulebook.vocabulary import FactPath, read_path
from shared.wording import Wording

HANDLED = ("mixed", "sprayed", "hose", "rinsed")
"""The tasks of those who handle a product or what it is on; labels say 'applicators and other handlers' (from
memory)."""

_WEAR = Wording("Put it on before going on, and tick it.", "Póngaselo antes de seguir y márquelo.")


@dataclass(frozen=True)
class Ppe(Kind):
    """Judged on each person; one who handled no product need not wear it."""

    name = "ppe"
    judges = ("people",)
    wordings = {
        "ppe/met": Wording("Wore what {by} asks for: {wear}.", "Llevaba lo que exige {by}: {wear}."),
        "ppe/not_met": Wording(
            "{by} asks for {wear}; the record does not show it worn. {mend}",
            "{by} exige {wear}; el registro no muestra que se llevara. {mend}",
        ),
        "ppe/not_exposed": Wording(
            "Handled no product: neither mixed, sprayed, carried the hose nor rinsed.",
            "No manejó ningún producto: ni mezcló, ni roció, ni llevó la manguera, ni enjuagó.",
        ),
    }

    wear: Mapping[str, Wording]
    worn: FactPath
    tasks: FactPath

    @classmethod
    def read(cls, params: Params) -> Self:
        worn = read_path("person.ppe", params.setting.roots, lists=True)
        tasks = read_path("person.tasks", params.setting.roots, lists=True)
        known = worn.term.item.words if worn.term.item else {}
        wear = params.value("wear", each(one_of(known)))
        return cls({name: known[name] for name in wear}, worn, tasks)

    def judge(self, scope: Scope) -> Judgement:
        tasks = self.tasks.items(scope)
        if tasks.absent:
            return missing(tasks.lacks)
        if not any(task in HANDLED for task in _values(tasks)):
            return Judgement(Outcome.NOT_APPLICABLE, "ppe/not_exposed", tasks.about)
        worn = self.worn.items(scope)
        if worn.absent:
            return missing(worn.lacks)
        wanting = [said for name, said in self.wear.items() if name not in _values(worn)]
        outcome = Outcome.NOT_MET if wanting else Outcome.MET
        blanks = {"wear": Listed(tuple(wanting or self.wear.values()))}
        return Judgement(outcome, f"ppe/{outcome}", worn.about, blanks, mend=_WEAR)

    def possible(self) -> frozenset[Outcome]:
        return frozenset(Outcome)


def _values(items: Items) -> list[object]:
    return [item.value for item in items.items if isinstance(item, Leaf)]
