"""A product's label as a rule pack: limits, sites, materials, interval, protective equipment, steps."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from compliance.facts_reader import VOCABULARY
from compliance.label_clause import APPLIED
from compliance.label_gaps import gaps_of, is_pesticide
from compliance.label_limits import STAGES, levels, size_of, wanting, wind_without_gusts
from compliance.label_words import CAUTION, REASON, UNLISTED_TARGET
from compliance.rulebook.bounds import Bounds
from compliance.rulebook.kind import Kind
from compliance.rulebook.kinds.gusts import Gusts
from compliance.rulebook.kinds.interval import Interval
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.kinds.not_stated import NotStated
from compliance.rulebook.kinds.ppe import Ppe
from compliance.rulebook.kinds.protection import Protection
from compliance.rulebook.kinds.surfaces import Surfaces
from compliance.rulebook.kinds.targets import Targets
from compliance.rulebook.kinds.validity import Validity
from compliance.rulebook.pack import Pack
from compliance.rulebook.rule import Duty, Rule
from compliance.rulebook.vocabulary import FactPath, read_path
from records.document.canonical import digest_of
from records.document.registration import registration_key
from records.document.types import Label, Product, TreatmentDocument
from records.document.words import WORD_LISTS
from shared.timeline import Span
from shared.wording import Wording

LABELS_AT_HAND = 1000
_OF_THE_LABEL = {"name", "registration_number", "kind", "label"}


def label_packs(document: TreatmentDocument) -> list[Pack]:
    """One pack for each product line; the same label in two lines binds the people only once."""
    packs: list[Pack] = []
    seen: set[str] = set()
    for m, mix in enumerate(document.mixes or []):
        for p, product in enumerate(mix.products or []):
            label = _LabelOf(_stated(product), f"mixes[{m}].products[{p}]", product)
            packs.append(_pack_of(label, label.cite not in seen))
            seen.add(label.cite)
    return packs


@lru_cache(maxsize=LABELS_AT_HAND)
def _pack_of(label: "_LabelOf", with_people: bool) -> Pack:
    """The pack of a label: the same for every product line that states the same of it, in the same place."""
    return label.pack(with_people)


def _stated(product: Product) -> str:
    """All of a product line that its label's pack is made from."""
    return product.model_dump_json(include=_OF_THE_LABEL, exclude_none=True)


@dataclass(frozen=True)
class _LabelOf:
    stated: str
    path: str
    product: Product = field(compare=False)

    @property
    def label(self) -> Label:
        return self.product.label or Label()

    @property
    def prefix(self) -> str:
        number = self.product.registration_number
        known = number if registration_key(number) else self.product.name
        return f"label/{_slug(known or 'unnamed')}"

    @property
    def name(self) -> str:
        return self.product.name or self.product.registration_number or "?"

    @property
    def cite(self) -> str:
        return f"label of {self.name}, {self.label.version or 'version not stated'}"

    def pack(self, with_people: bool) -> Pack:
        rules = [*self.not_stated(), *self.dated(), *self.limits(), *self.gusts(), *self.surfaces()]
        rules += self.steps()
        if with_people and self.label.ppe:
            rules.append(self.ppe(tuple(self.label.ppe)))
        return Pack(
            id=self.prefix,
            version=self.label.version or "",
            digest=digest_of(self.label),
            place="",
            layer="label",
            title=Wording(f"Label of {self.name}", f"Etiqueta de {self.name}"),
            caution=CAUTION,
            rules=tuple(rules),
            by=Wording(f"the label of {self.name}", f"la etiqueta de {self.name}"),
        )

    def not_stated(self) -> Iterator[Rule]:
        """What a pesticide's label must have been asked for: an empty list would say that it sets none."""
        for gap in gaps_of(self.product):
            kind = NotStated(tuple(f"{self.path}.{name}" for name in gap.members), gap.as_none)
            yield self.rule(gap.name, gap.title, kind, "before", gap.level)

    def limits(self) -> Iterator[Rule]:
        for limit in self.label.limits or ():
            if limit.of is None or wanting(limit):
                continue
            measure = VOCABULARY.measures[limit.of.removesuffix("_min")]
            bounds = Bounds(size_of(limit.min), size_of(limit.max))
            stage = STAGES.get(measure.name, "after")
            for suffix, level, part in levels(limit, bounds):
                kind = (
                    Interval(between=part, measure=measure)
                    if measure.name == "days_between"
                    else Limit(measure, part)
                )
                yield self.rule(f"{limit.of}{suffix}", measure.label, kind, stage, level)

    def gusts(self) -> Iterator[Rule]:
        if most := wind_without_gusts(self.label.limits or ()):
            gust = VOCABULARY.measures["gust"]
            yield self.rule("gust_beside_wind", gust.label, Gusts(gust, most), "during", "advised")

    def dated(self) -> Iterator[Rule]:
        """Both days are asked for as advice: a label has a version, and not always a day."""
        level = "required" if self.label.valid_from or self.label.valid_to else "advised"
        if self.product.label and (level == "required" or is_pesticide(self.product)):
            kind = Validity(self.read("product.label.valid_from"), self.read("product.label.valid_to"))
            title = Wording("Version of the label", "Versión de la etiqueta")
            yield self.rule("validity", title, kind, "before", level)

    def surfaces(self) -> Iterator[Rule]:
        treated = self.read("mix.treated")
        if self.label.sites:
            kinds = {name: WORD_LISTS["surface_kind"][name] for name in self.label.sites}
            yield self.rule(
                "sites", Wording("Sites", "Lugares"), Surfaces(treated, only_on=kinds), "before"
            )
        if self.label.not_on:
            not_on = Surfaces(treated, not_on=tuple(self.label.not_on))
            yield self.rule("not_on", Wording("Materials", "Materiales"), not_on, "before")
        if self.label.targets:
            named = {name: WORD_LISTS["target"][name] for name in self.label.targets}
            kind = Targets(named, self.read("targets"))
            title = Wording("Targets", "Organismos")
            yield self.rule("targets", title, kind, "before", "advised", mend=UNLISTED_TARGET)

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
        mend: Wording | None = None,
    ) -> Rule:
        return Rule(
            id=f"{self.prefix}/{name}",
            title=title,
            reason=REASON,
            source="label",
            text="found",
            doubt=None,
            level=level,
            stage=stage,
            span=Span(),
            judges=judges,
            clauses=(APPLIED,),
            mend=mend,
            duties=Duty(kind, self.cite),
            only=self.path if judges == "products" else None,
        )


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-") or "unnamed"
