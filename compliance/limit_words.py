"""Who sets a limit, in words: advice and what rests on memory are never shown as law. Pure."""

from collections.abc import Mapping
from typing import Any

from compliance.facts_reader.judged import MEASURES
from compliance.said_in import cite_in
from records.document.words import WORD_LISTS
from shared.wording import Wording

_ADVISED = Wording("advised", "recomendado")
_MEMORY = Wording("from memory, to be confirmed", "de memoria, por confirmar")


def quantity_words(quantity: str) -> Wording:
    """What a limit is about: of a label as the closed list has it, of a rule as the rulebook measures it."""
    listed = WORD_LISTS["limit_quantity"].get(quantity)
    return listed or next((one.label for one in MEASURES if one.name == quantity), Wording(quantity, quantity))


def set_by(limit: Mapping[str, Any], language: str) -> str:
    """The source of a stored limit with its marks: `Act 1(a) (advised; from memory, to be confirmed)`."""
    marks = ((_ADVISED, limit.get("level") == "advised"), (_MEMORY, limit.get("text") == "memory"))
    said = "; ".join(mark.say(language) for mark, bears in marks if bears)
    cite = cite_in(str(limit["set_by"]["cite"]), language)
    return f"{cite} ({said})" if said else cite


def is_sure(limit: Mapping[str, Any]) -> bool:
    """Whether it may be shown as what its layer demands: it is required, by a text that was read."""
    return limit.get("level") != "advised" and limit.get("text") != "memory"
