"""Kind `record`: these members must be on the record."""

from dataclasses import dataclass
from typing import Self

from compliance.rulebook.asks import Ask, Gap, read_ask
from compliance.rulebook.facts import Paths, Scope
from compliance.rulebook.kind import Judgement, Kind, Listed, missing
from compliance.rulebook.outcome import MET, NOT_MET, Outcome
from compliance.rulebook.reading import Params, each
from shared.wording import Sayable, Wording

_MEET = Wording(
    "Look at the amounts again and enter what is right.", "Revise las cantidades y anote las correctas."
)


@dataclass(frozen=True)
class Explained:
    """What is asked for, and why it can't be worked out."""

    words: Wording
    why: Sayable

    def say(self, language: str) -> str:
        """`the total product applied (20 lb and 15 gal cannot be set against each other)`."""
        return f"{self.words.say(language)} ({self.why.say(language)})"


@dataclass(frozen=True)
class Record(Kind):
    """Not met by absence; can't tell only where it is unknown whether something is asked for."""

    name = "record"
    wordings = {
        "record/met": Wording("The record states what is asked for.", "El registro contiene lo que se pide."),
        "record/not_met": Wording(
            "The record does not state: {asked}. {mend}", "El registro no indica: {asked}. {mend}"
        ),
    }

    asks: tuple[Ask, ...]

    @classmethod
    def read(cls, params: Params) -> Self:
        return cls(params.value("asks", each(lambda raw: read_ask(params.inner(raw)))))

    def judge(self, scope: Scope) -> Judgement:
        gaps: list[tuple[Ask, Gap]] = []
        stated: list[str] = []
        for ask in self.asks:
            gap, about = ask.gap(scope)
            stated += about
            if gap:
                gaps.append((ask, gap))
        if not gaps:
            once = stated if len(stated) == 1 else dict.fromkeys(stated)
            return Judgement(MET, "record/met", tuple(once))
        absent = [(ask, gap) for ask, gap in gaps if not gap.unsure]
        paths = tuple(dict.fromkeys(path for _, gap in absent or gaps for path in gap.paths))
        if absent:
            asked = Listed(tuple(_said(ask, gap) for ask, gap in absent))
            mend = _MEET if any(gap.why for _, gap in absent) else None
            return Judgement(
                NOT_MET, "record/not_met", paths, {"asked": asked}, absence=True, mend=mend
            )
        return missing(paths, why=next((gap.why for _, gap in gaps if gap.why), None))

    def judge_nothing(self, lacks: Paths) -> Judgement:
        asked = Listed(tuple(ask.words for ask in self.asks))
        return Judgement(NOT_MET, "record/not_met", lacks, {"asked": asked}, absence=True)

    def possible(self) -> frozenset[Outcome]:
        return frozenset({Outcome.MET, Outcome.NOT_MET})


def _said(ask: Ask, gap: Gap) -> Sayable:
    return Explained(ask.words, gap.why) if gap.why else ask.words
