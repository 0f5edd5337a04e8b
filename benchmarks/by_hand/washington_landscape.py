"""Washington's marker and sensitive persons by hand: a roof, and nobody asked whether it is a structure."""


from benchmarks.by_hand.reach import Hand, rows, value
from compliance.rulebook.kind import Judgement, Listed
from compliance.rulebook.outcome import Outcome
from shared.wording import Wording

ROOF = Wording(
    "Is your work on roofs and walls a 'structural application' in the sense of RCW 17.21.020(28)(c)?",
    "¿Es su trabajo en tejados y paredes una 'aplicación estructural' en el sentido de RCW 17.21.020(28)(c)?",
)
RULES = ("us-wa/notice/registered", "us-wa/posting/marker")


def find(hand: Hand) -> None:
    assert all(value(surface, "kind") == "roof" for surface in rows(hand.root, "surfaces"))
    assert not rows(hand.root, "context.determinations")
    open_question = Judgement(
        Outcome.CANT_TELL, "question/open", ("context.determinations",), {"asks": Listed((ROOF,))}
    )
    for rule in RULES:
        hand.say(rule, open_question)
        hand.findings[-1] = hand.findings[-1].but(level="advised")
