"""What is said in points: a line, and what stands under it."""

from dataclasses import dataclass

from shared.wording import Catalogue, say


@dataclass(frozen=True)
class Point:
    """One line with the lines under it."""

    text: str
    points: tuple["Point", ...] = ()

    @property
    def flat(self) -> str:
        """All of it in one line, what stands under it in brackets."""
        inner = "; ".join(point.flat for point in self.points)
        return f"{self.text} ({inner})" if inner else self.text


@dataclass(frozen=True)
class Speaker:
    """Says the sentences of a catalogue in one language."""

    catalogue: Catalogue
    language: str

    def __call__(self, wording: str, **blanks: str) -> str:
        return say(self.catalogue, wording, blanks, self.language)

    def listed(self, parts: list[str], joint: str = "and") -> str:
        """`a, b and c`; with the joint `or`: `a, b or c`."""
        once = list(dict.fromkeys(parts))
        last = {"and": {"en": "and", "es": "y"}, "or": {"en": "or", "es": "o"}}[joint][self.language]
        return f"{', '.join(once[:-1])} {last} {once[-1]}" if len(once) > 1 else "".join(once)
