"""What is wrong with a document: a path, and a sentence in every language."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from records.document.fault_wordings import WORDINGS as DOCUMENT_WORDINGS
from shared.quantities.wordings import WORDINGS as QUANTITY_WORDINGS
from shared.times import WORDINGS as TIME_WORDINGS
from shared.wording import LANGUAGES, Blanks, Catalogue, say

WORDINGS: Catalogue = {**DOCUMENT_WORDINGS, **QUANTITY_WORDINGS, **TIME_WORDINGS}


@dataclass(frozen=True)
class Fault:
    """One fault: the path of the member (empty for the whole), a wording id and its blanks."""

    path: str
    wording: str
    blanks: Blanks = field(default_factory=dict)

    def sentence(self, language: str) -> str:
        """What is wrong, without the path: `expected an area, got 3000 gal`."""
        return say(WORDINGS, self.wording, self.blanks, language)

    def say(self, language: str) -> str:
        """Path and sentence: `surfaces[0].treated_area: expected an area, got 3000 gal`."""
        return f"{self.path or WORDINGS['document/whole'].say(language)}: {self.sentence(language)}"

    def as_json(self) -> dict[str, str]:
        """The fault with its sentence in every language, to be kept beside a draft."""
        sentences = {language: self.sentence(language) for language in LANGUAGES}
        return {"path": self.path, "wording": self.wording, **sentences}


class DocumentFaults(ValueError):  # noqa: N818 - it holds all faults, not one
    """Everything that is wrong with a document, context or follow-up; never empty."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("; ".join(fault.say("en") for fault in faults[:3]))
        self.faults = list(faults)
