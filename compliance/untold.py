"""What the check itself can't tell, beside the rules of any pack."""

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.facts import Paths
from compliance.rulebook.finding import Basis, Finding
from compliance.rulebook.kind import Judgement
from compliance.rulebook.outcome import Outcome
from shared.wording import Blanks, Wording


def untold(
    rule: str, title: Wording, stage: str, cite: str, wording: str, about: Paths, blanks: Blanks | None = None
) -> Finding:
    """A required finding that can't be told, so that the record is no all-clear."""
    basis = Basis(
        rule=f"rulebook/{rule}",
        pack="rulebook",
        title=title,
        level="required",
        layer="law",
        stage=stage,
        cite=cite,
        text="found",
        doubt=None,
        by="",
    )
    judgement = Judgement(Outcome.CANT_TELL, wording, about, blanks or {})
    return Finding(basis, judgement, basis.level, VOCABULARY)
