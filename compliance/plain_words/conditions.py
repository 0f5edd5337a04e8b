"""Conditions in words: the closed form of `rulebook.conditions`, read from a rule's data."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from compliance.plain_words.points import Point, Speaker
from compliance.rulebook.reading import scalar
from compliance.rulebook.vocabulary import Term, read_path
from shared.quantities import Quantity
from shared.wording import Catalogue, Wording

WORDINGS: Catalogue = {
    "all": Wording("All of these:", "Todo esto:"),
    "any": Wording("At least one of these:", "Al menos una de estas cosas:"),
    "not_all": Wording("Not all of these at once:", "No todo esto a la vez:"),
    "not_any": Wording("None of these:", "Nada de esto:"),
    "not": Wording("Not this:", "Esto no:"),
    "is": Wording("{fact}: {value}", "{fact}: {value}"),
    "is_not": Wording("{fact}: not {value}", "{fact}: no {value}"),
    "among": Wording(
        "{said} (a word other than {known} leaves it open)", "{said} (otra palabra que {known} lo deja abierto)"
    ),
    "at least": Wording("{fact}: at least {value}", "{fact}: al menos {value}"),
    "at most": Wording("{fact}: at most {value}", "{fact}: como máximo {value}"),
    "not at least": Wording("{fact}: less than {value}", "{fact}: menos de {value}"),
    "not at most": Wording("{fact}: more than {value}", "{fact}: más de {value}"),
    "stated": Wording("{fact}: on the record", "{fact}: consta en el registro"),
    "not_stated": Wording("{fact}: not on the record", "{fact}: no consta en el registro"),
    "some": Wording("{list}: at least one with", "{list}: al menos uno con"),
    "every": Wording("{list}: every one with", "{list}: cada uno con"),
    "not_some": Wording("{list}: none with", "{list}: ninguno con"),
    "not_every": Wording("{list}: not every one with", "{list}: no todos con"),
    "some_is": Wording("{list}: at least one is {value}", "{list}: al menos uno es {value}"),
    "every_is": Wording("{list}: every one is {value}", "{list}: cada uno es {value}"),
    "not_some_is": Wording("{list}: none is {value}", "{list}: ninguno es {value}"),
    "not_every_is": Wording("{list}: not every one is {value}", "{list}: no todos son {value}"),
    "question": Wording(
        "Your firm's answer to the question “{asks}”: {value}",
        "La respuesta de su empresa a la pregunta «{asks}»: {value}",
    ),
    "entry": Wording("it", "esto"),
    "in_group": Wording("{fact} ({group})", "{fact} ({group})"),
    "yes": Wording("yes", "sí"),
    "no": Wording("no", "no"),
}
_IS = ("is", "is one of")
_COMPARISONS = (*_IS, "at least", "at most", "present")


@dataclass(frozen=True)
class Conditions:
    """Says conditions in one language. `roots` are the facts by name, `questions` what each question asks."""

    roots: Mapping[str, Term]
    questions: Mapping[str, Wording]
    language: str

    @property
    def say(self) -> Speaker:
        return Speaker(WORDINGS, self.language)

    def point(self, raw: Mapping[str, Any], *, negated: bool = False) -> Point:
        """A condition (or its contrary) as a point, with its parts under it."""
        if "not" in raw:
            return self.point(raw["not"], negated=not negated)
        for form in ("all", "any"):
            if form in raw:
                return self._several(form, raw[form], negated)
        for form in ("some", "every"):
            if form in raw:
                return self._over_items(form, raw, negated)
        return Point(self._question(raw, negated) if "question" in raw else self._fact(raw, negated))

    def fact(self, path: str) -> str:
        """What a person calls a fact, with the group that it stands in."""
        names = path.split(".")
        said = self._label(path)
        if len(names) < 2 or names[-2] in ("item", "treatment", "context"):
            return said
        return self.say("in_group", fact=said, group=self._label(".".join(names[:-1])))

    def of_item(self, path: str) -> "Conditions":
        """The same within the items of a list."""
        item = read_path(path, self.roots, lists=True).term.item
        return replace(self, roots={**self.roots, "item": item}) if item else self

    def _label(self, path: str) -> str:
        if path == "item":
            return self.say("entry")
        label = read_path(path, self.roots, lists=True).term.label
        return label.say(self.language) if label else path

    def _several(self, form: str, parts: list[Mapping[str, Any]], negated: bool) -> Point:
        if len(parts) == 1:
            return self.point(parts[0], negated=negated)
        return Point(self.say(f"not_{form}" if negated else form), tuple(self.point(part) for part in parts))

    def _over_items(self, form: str, raw: Mapping[str, Any], negated: bool) -> Point:
        path, part = raw[form], raw["has"]
        words = f"not_{form}" if negated else form
        within = self.of_item(path)
        if part.get("fact") == "item" and _asked(part) in _IS:
            return Point(self.say(f"{words}_is", list=self.fact(path), value=within._values(part)))
        inner = within.point(part)
        lead = self.say(words, list=self.fact(path))
        if inner.points:
            return Point(lead, (inner,))
        return Point(f"{lead} {inner.text}")

    def _question(self, raw: Mapping[str, Any], negated: bool) -> str:
        value = self._yes_no(raw["is"])
        if negated:
            return self.say("is_not", fact=self.questions[raw["question"]].say(self.language), value=value)
        return self.say("question", asks=self.questions[raw["question"]].say(self.language), value=value)

    def _fact(self, raw: Mapping[str, Any], negated: bool) -> str:
        fact = self.fact(raw["fact"])
        if "present" in raw:
            return self.say("stated" if (raw["present"] == "yes") is not negated else "not_stated", fact=fact)
        asked, said = _asked(raw), self._values(raw)
        if asked in _IS:
            compared = self.say("is_not" if negated else "is", fact=fact, value=said)
            return self._among(raw, compared) if "among" in raw else compared
        return self.say(f"not {asked}" if negated else asked, fact=fact, value=said)

    def _among(self, raw: Mapping[str, Any], compared: str) -> str:
        """A comparison of a word of which the law knows only some."""
        term = read_path(raw["fact"], self.roots).term
        known = self.say.listed([self._value(term, word) for word in raw["among"]], "or")
        return self.say("among", said=compared, known=known)

    def _values(self, raw: Mapping[str, Any]) -> str:
        """What a comparison compares with."""
        asked = _asked(raw)
        values = raw[asked] if asked == "is one of" else [raw[asked]]
        term = read_path(raw["fact"], self.roots).term
        return self.say.listed([self._value(term, value) for value in values], "or")

    def _value(self, term: Term, raw: str) -> str:
        if term.sort == "word":
            return term.words[raw].say(self.language)
        if term.sort == "yes_no":
            return self._yes_no(raw)
        value = scalar(term)(raw)
        return value.say(self.language) if isinstance(value, Quantity) else raw

    def _yes_no(self, raw: str) -> str:
        return self.say(raw) if raw in ("yes", "no") else raw


def _asked(raw: Mapping[str, Any]) -> str:
    return next(key for key in _COMPARISONS if key in raw)
