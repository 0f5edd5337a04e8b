"""A treatment that nobody is on record as having sprayed: what is asked of who sprays could not be judged."""

from compliance.rulebook.finding import Finding
from compliance.untold import untold
from records.document.types import TreatmentDocument
from shared.wording import Wording


def nobody_sprayed(document: TreatmentDocument, stage: str) -> list[Finding]:
    """Can't tell, once the work is finished, something was applied and each person's tasks leave spraying out.

    Rules that ask something of who sprayed don't apply to any of them, and would let the record pass.
    """
    people = document.people or []
    was_applied = any(mix.applied is not None for mix in document.mixes or [])
    may_have = any(each.tasks is None or "sprayed" in each.tasks for each in people)
    if stage != "finished" or not was_applied or not people or may_have:
        return []
    title = Wording("Who sprayed", "Quién pulverizó")
    cite = "the laws and labels that ask something of who sprays"
    about = tuple(f"people[{index}].tasks" for index in range(len(people)))
    return [untold("people/sprayer", title, "after", cite, "nobody_sprayed", about)]
