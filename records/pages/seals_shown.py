"""What was signed on devices as a page shows it: beside what was not taken, where it differs still."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from records.models import Seal
from records.pages.versions import VersionChange, changes_between
from records.seal_differences import sealed_and_standing


@dataclass(frozen=True)
class ShownSeal:
    """`changes` are the members that differ still, in words; None where nothing is set side by side."""

    seal: Seal
    changes: list[VersionChange] | None

    @property
    def reasons(self) -> list[dict[str, Any]]:
        """Why it was not taken, but for the members that are set side by side."""
        reasons: list[dict[str, Any]] = self.seal.why_not
        return reasons if self.changes is None else [each for each in reasons if "path" not in each]


def shown_seals(seals: Iterable[Seal], language: str, *, compares: bool) -> list[ShownSeal]:
    return [ShownSeal(seal, _changes(seal, language) if compares else None) for seal in seals]


def _changes(seal: Seal, language: str) -> list[VersionChange] | None:
    if seal.record or not any("path" in reason for reason in seal.why_not):
        return None
    pair = sealed_and_standing(seal)
    return changes_between(*pair, language) if pair else None
