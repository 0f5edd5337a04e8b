"""Kind `protection`: steps against runoff and drift."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Self

from compliance.rulebook.conditions import Verdict, combine
from compliance.rulebook.facts import Branch, Items, Leaf, Node, Paths, Scope, branches, member
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.outcome import MET, NOT_APPLICABLE, NOT_MET, Outcome
from compliance.rulebook.reading import Params, each, one_of
from compliance.rulebook.vocabulary import FactPath, node_about, read_path, words_of
from shared.values import Value
from shared.wording import Blank, Wording


class Call(Value, frozen=True):
    """Something that calls for steps: a feature (with its name; None: not stated), a treated surface, or the
    rule itself."""

    name: str | None
    about: Paths

_TAKE_IT = Wording(
    "Do it before spraying and tick it; if it was not done, say why in the notes.",
    "Hágalo antes de aplicar y márquelo; si no se hizo, diga por qué en las notas.",
)


@dataclass(frozen=True)
class Protection(Kind):
    """Called for by features of the site, by treated surfaces or always; not met if a step is not listed."""

    name = "protection"
    judges = ("document", "products")
    wordings = {
        "protection/met": Wording("Protected by: {steps}.", "Protegido con: {steps}."),
        "protection/any_of_feature": Wording(
            "The record shows no protection of {what}; one of these is asked for: {steps}. {mend}",
            "El registro no muestra protección de {what}; se pide una de estas: {steps}. {mend}",
        ),
        "protection/all_of_feature": Wording(
            "The record does not show this protection of {what}: {steps}. {mend}",
            "El registro no muestra esta protección de {what}: {steps}. {mend}",
        ),
        "protection/any_missing": Wording(
            "The record shows none of these steps: {steps}. {mend}",
            "El registro no muestra ninguno de estos pasos: {steps}. {mend}",
        ),
        "protection/all_missing": Wording(
            "The record does not show: {steps}. {mend}", "El registro no muestra: {steps}. {mend}"
        ),
        "protection/nothing": Wording(
            "There is nothing here that calls for this.", "Aquí no hay nada que lo requiera."
        ),
    }

    steps: Mapping[str, Wording]
    any_will_do: bool
    taken: FactPath
    features: tuple[str, ...] = ()
    at_site: FactPath | None = None
    surfaces: tuple[str, ...] = ()
    treated: FactPath | None = None

    @classmethod
    def read(cls, params: Params) -> Self:
        roots = params.setting.roots
        taken = read_path("protection", roots, lists=True)
        at_site = read_path("site.features", roots, lists=True)
        treated = read_path("surfaces", roots, lists=True)
        known = words_of(taken, "step")
        form, names = params.value("steps", lambda raw: _read_steps(params, raw, known))
        return cls(
            {name: known[name] for name in names},
            form == "any",
            taken,
            params.maybe("features", each(one_of(words_of(at_site, "kind")))) or (),
            at_site,
            params.maybe("surfaces", each(one_of(words_of(treated, "kind")))) or (),
            treated,
        )

    def judge(self, scope: Scope) -> Judgement:
        calls, lacks, looked_at = self._calls(scope)
        if not calls:
            if lacks:
                return missing(lacks)
            return Judgement(NOT_APPLICABLE, "protection/nothing", looked_at)
        taken = self.taken.items(scope)
        if taken.absent:
            return missing(taken.lacks)
        verdicts = [combine(self._steps_for(call, taken), decided_by=self.any_will_do) for call in calls]
        unserved = [call for call, one in zip(calls, verdicts, strict=True) if one.truth is False]
        if unserved:
            return self._refused(unserved, taken)
        lacks += tuple(path for verdict in verdicts for path in verdict.lacks)
        if lacks:
            return missing(lacks)
        kinds = {_value(item, "step") for item in taken.items}
        said = Listed(tuple(said for name, said in self.steps.items() if name in kinds))
        return Judgement(MET, "protection/met", taken.about, {"steps": said})

    def possible(self) -> frozenset[Outcome]:
        called_for = self.features or self.surfaces
        return frozenset(Outcome) if called_for else frozenset(Outcome) - {Outcome.NOT_APPLICABLE}

    def _calls(self, scope: Scope) -> tuple[list[Call], Paths, Paths]:
        """What calls for the steps, the members that would have to be known to know all of it, and those that
        were looked at."""
        if not self._callers:
            return [Call("", ())], (), ()
        calls: list[Call] = []
        lacks: Paths = ()
        looked_at: Paths = ()
        for path, kinds in self._callers:
            items = path.items(scope)
            lacks += items.lacks
            looked_at += items.about
            for item in items.items:
                kind = _value(item, "kind")
                if kind in kinds:
                    calls.append(Call(_value(item, "name") if path is self.at_site else "", node_about(item)))
                elif kind is None:
                    lacks += (f"{node_about(item)[0]}.kind",)
        return calls, lacks, looked_at

    @cached_property
    def _callers(self) -> tuple[tuple[FactPath, tuple[str, ...]], ...]:
        """The lists whose items call for the steps, each with the kinds that do."""
        lists = ((self.at_site, self.features), (self.treated, self.surfaces))
        return tuple((path, kinds) for path, kinds in lists if path and kinds)

    def _steps_for(self, call: Call, taken: Items) -> list[Verdict]:
        """For each step whether it was taken for this call."""
        serving: dict[str, list[Verdict]] = {step: [] for step in self.steps}
        for one in branches(taken):
            step = _value(one, "step")
            if step in serving:
                serving[step].append(_serves(one, call))
        return [combine(verdicts, decided_by=True) for verdicts in serving.values()]

    def _refused(self, calls: list[Call], taken: Items) -> Judgement:
        about = (*taken.about, *(path for call in calls for path in call.about))
        wanting = {
            said: None
            for call in calls
            for said, verdict in zip(self.steps.values(), self._steps_for(call, taken), strict=True)
            if verdict.truth is False
        }
        blanks: dict[str, Blank] = {"steps": Listed(tuple(wanting))}
        names = tuple(call.name for call in calls if call.name)
        if names:
            blanks["what"] = Listed(names)
        form = "any" if self.any_will_do and len(self.steps) > 1 else "all"
        wording = f"protection/{form}_{'of_feature' if names else 'missing'}"
        return Judgement(NOT_MET, wording, about, blanks, absence=True, mend=_TAKE_IT)


def _serves(step: Branch, call: Call) -> Verdict:
    """Whether a step that was taken serves what calls for it; one whose list of features is empty serves
    all."""
    named = member(step, "features")
    if call.name == "" or (isinstance(named, Items) and not named.items):
        return Verdict(True)
    if not isinstance(named, Items):
        return Verdict(None, lacks=node_about(named))
    if call.name is None:
        return Verdict(None, lacks=tuple(f"{path}.name" for path in call.about))
    return Verdict(any(isinstance(name, Leaf) and name.value == call.name for name in named.items))


def _value(item: Node, name: str) -> str | None:
    leaf = item.members.get(name) if isinstance(item, Branch) else None
    return leaf.value if isinstance(leaf, Leaf) and isinstance(leaf.value, str) else None


def _read_steps(params: Params, raw: object, known: Mapping[str, Wording]) -> tuple[str, tuple[str, ...]]:
    part = params.inner(raw)
    form = part.which("any", "all")
    names = part.value(form, each(one_of(known)))
    part.done()
    return form, names
