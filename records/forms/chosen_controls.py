"""Which control asks for a member: its kind decides, a question adds what it offers first."""

from dataclasses import dataclass
from typing import Any

from records.document.kinds import Day, Decimals, Flag, Measured, Text, Time, Word
from records.document.members import Member, member_at
from records.document.paths import values_at
from records.document.words import WORD_LISTS
from records.forms import controls
from records.forms.compass import Compass
from records.forms.controls import Control
from records.forms.moment import Moment
from records.forms.table import Question, Spread


@dataclass(frozen=True)
class ChosenControls:
    """Controls for questions about one document, at a site in `zone` on `day`."""

    document: dict[str, Any]
    language: str
    zone: str
    day: str

    def of(self, question: Question | Spread, member: Member, value: Any) -> Control:
        if isinstance(question, Spread):
            return self._amounts(question, member, value)
        if question.compass:
            return Compass()
        if question.names:
            choices = tuple((name, name) for _place, name in values_at(self.document, question.names))
            return (controls.SomeOf if member.item else controls.OneOf)(choices)
        kind = member.kind or (member.item and member.item.kind)
        if isinstance(kind, Word):
            return (controls.SomeOf if member.item else controls.OneOf)(self._words(kind))
        return self._control_of_kind(kind, question, value)

    def _control_of_kind(self, kind: Any, question: Question, value: Any) -> Control:
        if isinstance(kind, Measured):
            in_another = isinstance(value, dict) and value.get("unit") != question.unit
            return controls.Measure(kind.dimensions, question.unit, question.alone and not in_another)
        if isinstance(kind, Flag):
            return controls.YesNo()
        if isinstance(kind, Time):
            return Moment(self.zone, self.day, question.now)
        if isinstance(kind, Day):
            return controls.Day()
        if isinstance(kind, Decimals):
            return controls.Number()
        return controls.LongText() if isinstance(kind, Text) and kind.most > 2000 else controls.Control()

    def _words(self, kind: Word) -> tuple[controls.Choice, ...]:
        return tuple((word, label.say(self.language)) for word, label in WORD_LISTS[kind.word_list].items())

    def _amounts(self, spread: Spread, member: Member, value: Any) -> Control:
        owner = member.item.part if member.item else None
        amount = member_at(spread.amount, owner).kind
        key = member_at(spread.key, owner).kind
        if isinstance(key, Word):
            keys = self._words(key)
        else:
            keys = tuple((name, name) for _place, name in values_at(self.document, spread.names))
        measure = controls.Measure(amount.dimensions, spread.unit)
        return controls.Amounts(spread.key, spread.amount, keys, measure, tuple(value or ()))
