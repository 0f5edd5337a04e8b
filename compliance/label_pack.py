"""A product's label as a rule pack: limits, sites, materials, interval, protective equipment, steps."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.bounds import Bounds
from compliance.rulebook.facts import Paths, Scope, Size
from compliance.rulebook.kind import Judgement, Kind, missing
from compliance.rulebook.kinds.interval import Interval
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.kinds.permission import Permission
from compliance.rulebook.kinds.ppe import Ppe
from compliance.rulebook.kinds.protection import Protection
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.pack import Pack
from compliance.rulebook.rule import Duty, Rule
from compliance.rulebook.vocabulary import FactPath, read_path
from records.document.canonical import digest_of
from records.document.types import Label, Product, TreatmentDocument
from records.document.types import Limit as LabelLimit
from records.document.words import WORD_LISTS
from shared.quantities import Quantity
from shared.timeline import Span
from shared.wording import Wording

_CAUTION = Wording(
    "The label on the container is the law; this is a copy of some of it.",
    "La etiqueta del envase es la ley; esto es copia de una parte.",
)
_REASON = Wording("The label says so.", "Lo dice la etiqueta.")
_ADVISED_MINIMUM = ("coverage", "dilution", "product_rate")
_STAGES = {
    "wind_speed": "during",
    "gust": "during",
    "temperature": "during",
    "hours_dry_after": "before",
    "days_between": "before",
    "buffer": "before",
}


@dataclass(frozen=True)
class NotStated(Kind):
    """Can't tell what the label says, because the document does not state it."""

    name = "not_stated"
    paths: Paths

    def judge(self, scope: Scope) -> Judgement:
        return missing(self.paths)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.CANT_TELL})


def label_packs(document: TreatmentDocument) -> list[Pack]:
    """One pack for each product line; the same label in two lines binds the people only once."""
    packs, seen = [], set[str]()
    for m, mix in enumerate(document.mixes or []):
        for p, product in enumerate(mix.products or []):
            label = _LabelOf(product, f"mixes[{m}].products[{p}]")
            packs.append(label.pack(with_people=label.cite not in seen))
            seen.add(label.cite)
    return packs


@dataclass(frozen=True)
class _LabelOf:
    product: Product
    path: str

    @property
    def label(self) -> Label:
        return self.product.label or Label()

    @property
    def prefix(self) -> str:
        return f"label/{_slug(self.product.registration_number or self.product.name or 'unnamed')}"

    @property
    def name(self) -> str:
        return self.product.name or self.product.registration_number or "?"

    @property
    def cite(self) -> str:
        return f"label of {self.name}, {self.label.version or 'version not stated'}"

    def pack(self, with_people: bool) -> Pack:
        rules = [*self.not_stated(), *self.limits(), *self.surfaces(), *self.steps()]
        if with_people and self.label.ppe:
            rules.append(self.ppe(tuple(self.label.ppe)))
        return Pack(
            id=self.prefix,
            version=self.label.version or "",
            digest=digest_of(self.label),
            place="",
            layer="label",
            title=Wording(f"Label of {self.name}", f"Etiqueta de {self.name}"),
            caution=_CAUTION,
            rules=tuple(rules),
            by=Wording(f"the label of {self.name}", f"la etiqueta de {self.name}"),
        )

    def not_stated(self) -> Iterator[Rule]:
        """What a pesticide's label must have been asked for: an empty list would say that it sets none."""
        if self.product.label is None:
            if self.product.kind in (None, "pesticide"):
                kind = NotStated((f"{self.path}.label",))
                yield self.rule("stated", Wording("The label", "La etiqueta"), kind, stage="before")
            return
        for name, said in _ASKED.items():
            if getattr(self.label, name) is None:
                about = f"{self.path}.label.{name}"
                yield self.rule(f"{name}_stated", said, NotStated((about,)), stage="before")

    def limits(self) -> Iterator[Rule]:
        for limit in self.label.limits or ():
            measure = VOCABULARY.measures.get((limit.of or "").removesuffix("_min"))
            bounds = Bounds(size_of(limit.min), size_of(limit.max))
            if measure is None or (bounds.min is None and bounds.max is None):
                continue
            stage = _STAGES.get(measure.name, "after")
            for suffix, level, part in _levels(limit, bounds):
                kind = (
                    Interval(between=part, measure=measure)
                    if measure.name == "days_between"
                    else Limit(measure, part)
                )
                yield self.rule(f"{limit.of}{suffix}", measure.label, kind, stage, level)

    def surfaces(self) -> Iterator[Rule]:
        treated = self.read("mix.treated")
        if self.label.sites:
            kinds = {name: WORD_LISTS["surface_kind"][name] for name in self.label.sites}
            yield self.rule(
                "sites", Wording("Sites", "Lugares"), Permission(treated, only_on=kinds), "before"
            )
        if self.label.not_on:
            not_on = Permission(treated, not_on=tuple(self.label.not_on))
            yield self.rule("not_on", Wording("Materials", "Materiales"), not_on, "before")

    def steps(self) -> Iterator[Rule]:
        if self.label.protection:
            steps = {name: WORD_LISTS["step"][name] for name in self.label.protection}
            kind = Protection(steps, False, self.read("protection"))
            yield self.rule(
                "protection", Wording("Protection steps", "Medidas de protección"), kind, "before"
            )

    def ppe(self, wear: tuple[str, ...]) -> Rule:
        said = {name: WORD_LISTS["ppe"][name] for name in wear}
        kind = Ppe(said, self.read("person.ppe", "people"), self.read("person.tasks", "people"))
        title = Wording("Protective equipment", "Equipo de protección")
        return self.rule("ppe", title, kind, "during", judges="people")

    def read(self, path: str, judges: str = "products") -> FactPath:
        return read_path(path, VOCABULARY.roots(judges), lists=True)

    def rule(
        self,
        name: str,
        title: Wording,
        kind: Kind,
        stage: str,
        level: str = "required",
        judges: str = "products",
    ) -> Rule:
        return Rule(
            id=f"{self.prefix}/{name}",
            title=title,
            reason=_REASON,
            source="label",
            text="found",
            doubt=None,
            level=level,
            stage=stage,
            span=Span(),
            judges=judges,
            clauses=(),
            mend=None,
            duties=Duty(kind, self.cite),
            only=self.path if judges == "products" else None,
        )


_ASKED = {
    "limits": Wording("Limits of the label", "Límites de la etiqueta"),
    "sites": Wording("Sites of the label", "Lugares de la etiqueta"),
    "ppe": Wording("Protective equipment of the label", "Equipo de protección de la etiqueta"),
    "protection": Wording("Protection steps of the label", "Medidas de protección de la etiqueta"),
}


def _levels(limit: LabelLimit, bounds: Bounds) -> Iterator[tuple[str, str, Bounds]]:
    """A minimum rate is advised: less than the label's rate is allowed unless the label forbids it
    (7 U.S.C. 136(ee), from memory)."""
    if limit.of not in _ADVISED_MINIMUM:
        yield "", "required", bounds
        return
    if bounds.max is not None:
        yield "", "required", Bounds(max=bounds.max)
    if bounds.min is not None:
        yield "_min", "advised", Bounds(min=bounds.min)


def size_of(bound: Quantity | str | None) -> Size | None:
    """A stated bound as the rulebook compares it: a quantity, or a count."""
    return int(bound) if isinstance(bound, str) else bound


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-") or "unnamed"
