"""What trying to send came to. Pure."""

from dataclasses import dataclass
from enum import Enum


class Came(Enum):
    """ACCEPTED: the other side has it. LATER: it surely has not, and may take it at another time. REFUSED: it
    surely has not and will not. UNSURE: it may have it. NOBODY: there is no other side, as no mail server is
    set."""

    ACCEPTED = "accepted"
    LATER = "later"
    REFUSED = "refused"
    UNSURE = "unsure"
    NOBODY = "nobody"


@dataclass(frozen=True)
class Answer:
    came: Came
    words: str = ""
