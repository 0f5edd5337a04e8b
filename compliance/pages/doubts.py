"""What a rule says of people: by what they are, not their place in a list; what is to be entered."""

from collections.abc import Iterable
from dataclasses import replace

from django.utils.translation import gettext as _

from compliance.notices.tellings import Asking, Telling
from compliance.notices.timeline import Plan
from compliance.pages.people_told import recipient_word
from compliance.rulebook.wordings import Sentence
from shared.wording import Sayable, Wording

MOST_NAMED = 5


def sentence_of(ask: Asking, telling: Telling, language: str) -> str:
    """What the rule says of the notices that were given, where they do not serve; else why it is in doubt."""
    if ask.judgement is not None and ask.state in ("wrong", "unknown"):
        return _of_all(ask.duty.holds.sentence(ask.judgement), telling).say(language)
    if what := _to_enter(telling, language):
        words = _("It can't be told whether they must be told before this is entered: %(what)s.")
        return words % {"what": what}
    return _of_all(ask.addressee.doubt, telling).say(language) if ask.addressee.doubt else ""


def _of_all(said: Sayable, telling: Telling) -> Sayable:
    """`Neighbour 6: told …` as `Neighbour: told …`: no list that a person sees has these numbers."""
    if not isinstance(said, Sentence) or "whom" not in said.blanks:
        return said
    word = recipient_word(telling).capitalize()
    return replace(said, blanks={**said.blanks, "whom": Wording(word, word)})


def _to_enter(telling: Telling, language: str) -> str:
    """What is to be entered before it can be told whether they must be told; '' if nothing would show it."""
    return "; ".join(dict.fromkeys(one.say(language) for one in telling.not_stated)) if telling.perhaps else ""


def entered_first(plan: Plan, language: str) -> str:
    """What is missing of whom: `Distance: 6 Heron Row, 8 Heron Row`."""
    missing: dict[str, list[str]] = {}
    for telling in plan.tellings:
        if what := _to_enter(telling, language):
            missing.setdefault(what, []).append(_where(telling, plan))
    return "; ".join(f"{what}: {_listed(whom)}" for what, whom in missing.items())


def _where(telling: Telling, plan: Plan) -> str:
    people = plan.context.neighbours if telling.to == "neighbour" else plan.context.registered_persons
    one = people[telling.number] if people and telling.number is not None else None
    return (one and one.address and one.address.line1) or recipient_word(telling)


def _listed(whom: Iterable[str]) -> str:
    every = list(whom)
    named = ", ".join(every[:MOST_NAMED])
    rest = len(every) - MOST_NAMED
    return _("%(named)s and %(n)d more") % {"named": named, "n": rest} if rest > 0 else named
