"""What a kind is told with: its data, the conditions in it, one language."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from compliance.plain_words.conditions import Conditions
from compliance.plain_words.duty_wordings import WORDINGS
from compliance.plain_words.points import Point, Speaker
from compliance.rulebook.vocabulary import FactPath
from shared.wording import Sayable


@dataclass(frozen=True)
class Teller:
    """`raw` is the data of the rule, with the values of one time laid over it."""

    raw: Mapping[str, Any]
    conditions: Conditions

    @property
    def language(self) -> str:
        return self.conditions.language

    @property
    def say(self) -> Speaker:
        return Speaker(WORDINGS, self.language)

    def point(self, wording: str, **blanks: str | Sayable) -> Point:
        """A sentence of the catalogue as a point."""
        said = {
            name: each if isinstance(each, str) else each.say(self.language) for name, each in blanks.items()
        }
        return Point(self.say(wording, **said))

    def under(self, wording: str, points: Iterable[Point]) -> Point:
        """A sentence with points under it."""
        return Point(self.say(wording), tuple(points))

    def lines(self, parts: Iterable[Sayable]) -> list[Point]:
        return [Point(part.say(self.language)) for part in parts]

    def listed(self, parts: Iterable[Sayable | str], joint: str = "or") -> str:
        said = [part if isinstance(part, str) else part.say(self.language) for part in parts]
        return self.say.listed(said, joint)

    def fact(self, path: FactPath) -> str:
        return self.conditions.fact(path.text)
