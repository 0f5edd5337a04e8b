"""Why a mix cannot be planned, in words."""

from records.mixing.wordings import WORDINGS
from shared.quantities import QuantityError
from shared.wording import Blanks, say


class MixError(ValueError):
    """One of the figures for a mix cannot be used; `field` is its name: area, coverage, dilution, tank,
    flow or density."""

    def __init__(self, field: str, wording_id: str, blanks: Blanks) -> None:
        super().__init__(wording_id)
        self.field = field
        self.wording_id = wording_id
        self.blanks = dict(blanks)

    @classmethod
    def of(cls, field: str, error: QuantityError) -> "MixError":
        """The same fault, said of one field."""
        return cls(field, error.wording_id, error.blanks)

    def say(self, language: str) -> str:
        """The sentence for a person, to stand beside the field."""
        return say(WORDINGS, self.wording_id, self.blanks, language)

    def __str__(self) -> str:
        return self.say("en")
