"""Kind `permission`: a treatment that is barred, or needs a permit's number, for this regime and surface."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Self

from compliance.rulebook.conditions import combine, foreign_word
from compliance.rulebook.facts import Branch, Leaf, Paths, Scope, branches, leaf_of
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.permits import permits_of
from compliance.rulebook.reading import Params, as_text, each, one_of
from compliance.rulebook.vocabulary import FactPath, read_path, words_of
from shared.wording import Blank, Wording

_LEAVE_IT = Wording("Do not treat it with this.", "No lo trate con esto.")
_ENTER_IT = Wording(
    "Enter the permit's number, or do not treat it.", "Anote el número del permiso, o no lo trate."
)
_ENTER_ANOTHER = Wording(
    "Enter the permit that covers it, or do not treat it.", "Anote el permiso que lo cubre, o no lo trate."
)


@dataclass(frozen=True)
class Permission(Kind):
    """Judges each product line of these `regimes` on the `surfaces` of these kinds that its mix treated.

    `barred: yes`: not met wherever it went on one. `permit` names an authority: met by the number of a permit
    from it, or from an authority in its place, that covers each of the surfaces on the day. `among`: the
    regimes that the law knows; one of another law does not say whether this binds the product. `may_be`: kinds
    that do not say whether such a surface is one of these.
    """

    name = "permission"
    judges = ("products",)
    wordings = {
        "permission/other_regime": Wording(
            "This product line falls under another law: {regime}.",
            "Esta línea de producto cae bajo otra ley: {regime}.",
        ),
        "permission/other_surfaces": Wording(
            "It goes on none of these: {kinds}.", "No se aplica en nada de esto: {kinds}."
        ),
        "permission/barred": Wording(
            "Barred by {by} for a product sold as {regime}: {what}. {mend}",
            "Prohibido por {by} para un producto vendido como {regime}: {what}. {mend}",
        ),
        "permission/no_permit": Wording(
            "{by} asks for a permit ({authority}) to use a product sold as {regime} on {what}, and the record "
            "names none. {mend}",
            "{by} exige un permiso ({authority}) para usar un producto vendido como {regime} en {what}, y el "
            "registro no nombra ninguno. {mend}",
        ),
        "permission/not_covered": Wording(
            "On {day} no permit on the record covers {what}; known is {permits}. {mend}",
            "El {day} ningún permiso del registro cubre {what}; consta {permits}. {mend}",
        ),
        "permission/permitted": Wording(
            "The record names a permit for {what}: {permits}. Its conditions were not looked at.",
            "El registro nombra un permiso para {what}: {permits}. Sus condiciones no se miraron.",
        ),
    }

    regimes: Mapping[str, Wording]
    surfaces: Mapping[str, Wording]
    may_be: Mapping[str, Wording]
    among: Paths
    authority: str | None
    regime: FactPath
    treated: FactPath
    named: FactPath
    held: FactPath

    @classmethod
    def read(cls, params: Params) -> Self:
        roots = params.setting.roots
        treated = read_path("mix.treated", roots, lists=True)
        regime = read_path("product.regime", roots)
        known, kinds = regime.term.words, words_of(treated, "kind")
        authority = None
        if params.which("barred", "permit") == "permit":
            authority = params.value("permit", as_text)
        else:
            params.value("barred", one_of(("yes",)))
        among = params.maybe("among", each(one_of(known))) or tuple(known)
        return cls(
            {name: known[name] for name in params.value("regimes", each(one_of(among)))},
            {name: kinds[name] for name in params.value("surfaces", each(one_of(kinds)))},
            {name: kinds[name] for name in params.maybe("may_be", each(one_of(kinds))) or ()},
            among,
            authority,
            regime,
            treated,
            read_path("permits", roots, lists=True),
            read_path("context.permits", roots, lists=True),
        )

    def judge(self, scope: Scope) -> Judgement:
        regime, treated = self.regime.leaf(scope), self.treated.items(scope)
        foreign = regime.value is not None and regime.value not in self.among
        if regime.value is not None and regime.value not in self.regimes and not foreign:
            said = self.regime.term.words[str(regime.value)]
            outcome = Outcome.NOT_APPLICABLE
            return Judgement(outcome, "permission/other_regime", regime.about, {"regime": said})
        kinds = [(item, leaf_of(item, "kind")) for item in branches(treated)]
        lacks = (*treated.lacks, *(path for _, kind in kinds for path in kind.lacks))
        bound = [(item, kind) for item, kind in kinds if kind.value in self.surfaces]
        unsure = [(item, kind) for item, kind in kinds if kind.value in self.may_be]
        if not (bound or unsure or lacks) and kinds:
            about = tuple(path for _, kind in kinds for path in kind.about)
            blanks: dict[str, Blank] = {"kinds": Listed(tuple(self.surfaces.values()))}
            return Judgement(Outcome.NOT_APPLICABLE, "permission/other_surfaces", about, blanks)
        if regime.value is None or not (bound or unsure):
            return missing((*regime.lacks, *(lacks or (() if kinds else treated.about))))
        if foreign:
            why = foreign_word(self.regime.term, str(regime.value))
            return missing(regime.about, why=why)
        told = self._bound(scope, regime, bound or unsure, lacks)
        if not unsure or (bound and told.outcome is not Outcome.MET):
            return told
        told = self._bound(scope, regime, [*bound, *unsure], lacks)
        if told.outcome is Outcome.MET:
            return told
        return missing(tuple(path for _, kind in unsure for path in kind.about), why=self._may_be_one())

    def possible(self) -> frozenset[Outcome]:
        return frozenset(Outcome) - ({Outcome.MET} if self.authority is None else set())

    def _bound(
        self, scope: Scope, regime: Leaf, bound: list[tuple[Branch, Leaf]], lacks: Paths
    ) -> Judgement:
        if self.authority is None:
            return self._barred(regime, bound)
        return self._permitted(scope, regime, bound, lacks)

    def _may_be_one(self) -> Wording:
        entered, these = Listed(tuple(self.may_be.values())), Listed(tuple(self.surfaces.values()))
        return Wording(
            f"a surface entered as “{entered.say('en')}” may be one of these: {these.say('en')}",
            f"una superficie anotada como «{entered.say('es')}» puede ser una de estas: {these.say('es')}",
        )

    def _barred(self, regime: Leaf, bound: list[tuple[Branch, Leaf]]) -> Judgement:
        blanks = self._blanks(regime, bound)
        about = (*(path for _, kind in bound for path in kind.about), *regime.about)
        return Judgement(Outcome.NOT_MET, "permission/barred", about, blanks, mend=_LEAVE_IT)

    def _permitted(
        self, scope: Scope, regime: Leaf, bound: list[tuple[Branch, Leaf]], lacks: Paths
    ) -> Judgement:
        named, day, authority = self.named.items(scope), scope.facts.day, self.authority or ""
        permits = permits_of(named, self.held.items(scope), authority)
        blanks = self._blanks(regime, bound)
        if not permits.named:
            about = permits.unnumbered or named.about
            blanks["authority"] = authority
            outcome = Outcome.NOT_MET
            return Judgement(outcome, "permission/no_permit", about, blanks, absence=True, mend=_ENTER_IT)
        if day is None:
            return missing(scope.facts.day_lacks)
        verdicts = [permits.cover(str(kind.value), day) for _, kind in bound]
        verdict = combine(verdicts, decided_by=False)
        blanks["permits"] = Listed(permits.said(words_of(self.treated, "kind")))
        if verdict.truth is False:
            uncovered = [one for one, said in zip(bound, verdicts, strict=True) if said.truth is False]
            return self._uncovered(blanks | self._blanks(regime, uncovered), day, verdict.about)
        if verdict.truth is None or lacks:
            return missing((*verdict.lacks, *lacks))
        return Judgement(Outcome.MET, "permission/permitted", ("permits",), blanks)

    def _uncovered(self, blanks: dict[str, Blank], day: date, about: Paths) -> Judgement:
        said: dict[str, Blank] = {**blanks, "day": day.isoformat()}
        about = ("permits", *about)
        return Judgement(Outcome.NOT_MET, "permission/not_covered", about, said, mend=_ENTER_ANOTHER)

    def _blanks(self, regime: Leaf, bound: list[tuple[Branch, Leaf]]) -> dict[str, Blank]:
        what = Listed(tuple(self._said(item, kind) for item, kind in bound))
        return {"regime": self.regimes[str(regime.value)], "what": what}

    def _said(self, item: Branch, kind: Leaf) -> Wording:
        """`Drive to the garage (drive)`."""
        name, word = leaf_of(item, "name").value or "?", {**self.may_be, **self.surfaces}[str(kind.value)]
        return Wording(f"{name} ({word.en})", f"{name} ({word.es})")
