"""A finding: what a rule says of one thing in a treatment document."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from compliance.rulebook.bounds import Bounds
from compliance.rulebook.facts import Paths
from compliance.rulebook.kind import Seen
from compliance.rulebook.outcome import RANK, Outcome
from compliance.rulebook.sizes import Exact
from compliance.rulebook.wordings import Sentence
from shared.quantities import Quantity
from shared.wording import LANGUAGES, Blank, Wording

Json = dict[str, Any]


@dataclass(frozen=True)
class Finding:
    """One rule's outcome for one thing, with the sentence in every language and what it was made from."""

    rule: str
    pack: str
    title: Wording
    outcome: Outcome
    level: str
    layer: str
    stage: str
    cite: str
    text: str
    doubt: Wording | None
    about: Paths
    observed: Seen
    bound: Seen
    due: datetime | None
    keep_until: date | None
    message: Sentence

    @property
    def wording(self) -> str:
        """The id of its sentence."""
        return self.message.wording

    @property
    def blanks(self) -> Mapping[str, Blank]:
        """What the sentence is filled with."""
        return self.message.blanks

    @property
    def place(self) -> tuple[int, str, str, Paths]:
        """The order in which findings stand: outcome, pack, rule, members."""
        return RANK[self.outcome], self.pack, self.rule, self.about

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
        return {
            **self.as_json("en"),
            "title": in_all_languages(self.title),
            "layer": self.layer,
            "stage": self.stage,
            "bound": seen_as_json(self.bound),
            "doubt": in_all_languages(self.doubt) if self.doubt else None,
            "wording": self.wording,
            "blanks": {name: _blank(blank) for name, blank in self.blanks.items()},
            "message": in_all_languages(self.message),
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
    if isinstance(blank, Quantity | Exact):
        return blank.as_json()
    return blank if isinstance(blank, str) else in_all_languages(blank)
