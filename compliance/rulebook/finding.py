"""A finding: what a rule says of one thing in a treatment document."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from compliance.rulebook.bounds import Bounds
from compliance.rulebook.facts import Paths
from compliance.rulebook.kind import Judgement, Listed, Seen
from compliance.rulebook.outcome import Outcome
from compliance.rulebook.sizes import Exact
from compliance.rulebook.vocabulary import Vocabulary
from compliance.rulebook.wordings import BLANKS, Sentence
from shared.quantities import Quantity
from shared.values import Value
from shared.wording import LANGUAGES, Blank, Wording

Json = dict[str, Any]
_NOTHING = Wording("", "")


@dataclass(frozen=True, eq=False, slots=True)
class Basis:
    """What a finding rests on: a rule as it stands in its pack. `by`: who allows and asks in a sentence;
    `mend`: what to do about it, if the kind of rule does not know better."""

    rule: str
    pack: str
    title: Wording
    level: str
    layer: str
    stage: str
    cite: str
    text: str
    doubt: Wording | None
    by: Blank
    mend: Wording | None = None


class Finding(Value, frozen=True):
    """One rule's outcome for one thing. What it says is made up when it is asked for.

    `whose`: the person or product that it is about, where that is not plain. `to_do`: what is not met or
    not known is not due yet. `members`: how the members of the document are spoken of.
    """

    basis: Basis
    judgement: Judgement
    level: str
    members: Vocabulary
    whose: str = ""
    to_do: bool = False

    @property
    def rule(self) -> str:
        return self.basis.rule

    @property
    def pack(self) -> str:
        return self.basis.pack

    @property
    def title(self) -> Wording:
        return self.basis.title

    @property
    def layer(self) -> str:
        return self.basis.layer

    @property
    def stage(self) -> str:
        return self.basis.stage

    @property
    def cite(self) -> str:
        return self.basis.cite

    @property
    def text(self) -> str:
        return self.basis.text

    @property
    def doubt(self) -> Wording | None:
        return self.basis.doubt

    @property
    def outcome(self) -> Outcome:
        return Outcome.NOT_APPLICABLE if self.to_do else self.judgement.outcome

    @property
    def about(self) -> Paths:
        return self.judgement.about

    @property
    def observed(self) -> Seen:
        return self.judgement.observed

    @property
    def bound(self) -> Seen:
        return self.judgement.bound

    @property
    def due(self) -> datetime | None:
        return self.judgement.due

    @property
    def keep_until(self) -> date | None:
        return self.judgement.keep_until

    @property
    def message(self) -> Sentence:
        """The sentence, with the blanks that it uses."""
        wording = self.judgement.wording
        said = Sentence(wording, {name: self._blank(name) for name in BLANKS[wording]}, self.whose)
        return Sentence("to_do", {"what": said}) if self.to_do else said

    @property
    def wording(self) -> str:
        """The id of its sentence."""
        return self.message.wording

    @property
    def blanks(self) -> Mapping[str, Blank]:
        """What the sentence is filled with."""
        return self.message.blanks

    def _blank(self, name: str) -> Blank:
        """What fills a blank: the kind's own word, or what every kind can use."""
        if name in self.judgement.blanks:
            return self.judgement.blanks[name]
        if name == "by":
            return self.basis.by
        if name == "mend":
            return self._mend()
        return Listed(tuple(self.members.label(path) for path in self.about))

    def _mend(self) -> Blank:
        """What to do about it: of what is only missing, how it is entered."""
        said = self.judgement
        known = None if said.wording == "missing" else self.basis.mend or said.mend
        entered = self.about and said.wording in ("missing", "record/not_met")
        return known or (self.members.what_to_do(self.about[0]) if entered else _NOTHING)

    def as_json(self, language: str) -> Json:
        """The finding as the command prints it."""
        return {
            "rule": self.rule,
            "outcome": str(self.outcome),
            "level": self.level,
            "cite": self.cite,
            "about": list(self.about),
            "observed": seen_as_json(self.observed),
            "bound": seen_as_json(self.bound.seen if isinstance(self.bound, Bounds) else self.bound),
            "due": self.due.isoformat() if self.due else None,
            "keep_until": self.keep_until.isoformat() if self.keep_until else None,
            "message": self.message.say(language),
            "text": self.text,
            "doubt": self.doubt.say(language) if self.doubt else None,
        }

    def stored(self) -> Json:
        """The finding as a stored check keeps it."""
        said = self.message
        return {
            **self.as_json("en"),
            "title": in_all_languages(self.title),
            "layer": self.layer,
            "stage": self.stage,
            "bound": seen_as_json(self.bound),
            "doubt": in_all_languages(self.doubt) if self.doubt else None,
            "wording": said.wording,
            "blanks": {name: _blank(blank) for name, blank in said.blanks.items()},
            "message": in_all_languages(said),
        }


def seen_as_json(seen: Seen) -> object:
    """What was observed, or a bound: text, a quantity, or both ends."""
    if isinstance(seen, Bounds):
        return {"min": seen_as_json(seen.min), "max": seen_as_json(seen.max)}
    if isinstance(seen, Quantity | Exact):
        return seen.as_json()
    return str(seen) if isinstance(seen, int) else seen


def in_all_languages(said: Any) -> dict[str, str]:
    """Something sayable, said in each language."""
    return {language: said.say(language) for language in LANGUAGES}


def _blank(blank: Blank) -> object:
    return seen_as_json(blank) if isinstance(blank, str | Quantity | Exact) else in_all_languages(blank)
