"""What a notice must say and nothing on record answers: it is typed once for all of them, or not e-mailed."""

from collections.abc import Iterable, Iterator, Mapping

from compliance.papers.notice.content import Line
from compliance.services.telling import Choice, Round, ToTell, Visit
from records.models.notices import BY_MACHINE

DATES = "alternates"
"""These have fields of their own."""


def to_be_typed(these: Round, language: str) -> tuple[Line, ...]:
    """The lines of all notices of the round that no data answers, each once, in this language."""
    alike = {tuple(one.duty.rule for one in person.telling.asks): person for person in these.people}
    said = {person.key: Choice("letter", (language,)) for person in alike.values()}
    contents = (content for _person, _choice, content in these.contents(said, Visit()))
    found = {line.key: line for content in contents for line in content.open_lines}
    return tuple(line for line in found.values() if line.key != DATES)


def unsaid(these: Round, chosen: Mapping[str, Choice], visit: Visit) -> Mapping[str, tuple[ToTell, ...]]:
    """By the key of a line that a law requires and that would go out blank by machine: to whom it would."""
    found: dict[str, tuple[ToTell, ...]] = {}
    for key, person in _blank(these, chosen, visit):
        found[key] = (*found.get(key, ()), person)
    return found


def _blank(these: Round, chosen: Mapping[str, Choice], visit: Visit) -> Iterator[tuple[str, ToTell]]:
    for person, choice, content in these.contents(chosen, visit):
        if choice.means in BY_MACHINE:
            required = set(_required(person))
            yield from ((line.key, person) for line in content.open_lines if line.key in required)


def _required(person: ToTell) -> Iterable[str]:
    duties = [one.duty for one in person.telling.asks if one.duty.level == "required"]
    yield from (content.key for duty in duties for content in duty.contents)
    if any(duty.all_alternates for duty in duties):
        yield DATES
