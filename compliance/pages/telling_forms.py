"""What the office chooses before notices are made: who is told, how, in which language, for which days."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any, cast
from zoneinfo import ZoneInfo

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.models.notice_words import promise_nothing
from compliance.own_words import LONGEST
from compliance.papers.notice.content import Line
from compliance.rulebook.durations import said_language
from compliance.services.telling import Choice, Visit
from compliance.services.to_tell import ToTell
from records.document.words import WORD_LISTS
from records.forms.dates import DayField
from shared.digests import digest

MOST_DATES = 5
BOTH = "en es"
BY_NUMBER = ("phone", "text-message")
LONGEST_STATEMENT = 2000


class VisitForm(forms.Form):
    """Until when the crew is there at the latest, the other days that the notices name, and what they must say
    and no record answers."""

    until = forms.TimeField(
        label=gettext_lazy("Done by about"),
        required=False,
        widget=forms.TimeInput({"type": "time"}, format="%H:%M"),
    )

    def __init__(
        self,
        data: Any,
        start: datetime,
        zone: str,
        *,
        needed: int,
        possible: int,
        today: date,
        offered: Visit,
        lines: Sequence[Line] = (),
        is_off: bool = False,
    ) -> None:
        super().__init__(data, initial=_typed_before(offered, zone))
        if is_off:
            del self.fields["until"]
        self._start, self._zone, self._needed, self._today = start, ZoneInfo(zone), needed, today
        self._days = [f"alternate_{number}" for number in range(1, min(max(needed, possible), MOST_DATES) + 1)]
        for number, name in enumerate(self._days, 1):
            self.fields[name] = DayField(
                label=_("Alternate date %(n)d") % {"n": number},
                required=number <= needed,
                widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
            )
        self._lines = {line_name(line.key): line.key for line in lines}
        for name, line in zip(self._lines, lines, strict=True):
            self.fields[name] = _to_type(line)

    def clean_until(self) -> datetime | None:
        typed = self.cleaned_data["until"]
        if typed is None:
            return None
        until = datetime.combine(self._start.date(), typed, self._zone)
        if until <= self._start:
            raise ValidationError(_("This must be later than the planned start."), code="until")
        return until

    def clean(self) -> dict[str, Any]:
        seen = {self._start.date()}
        for name in self._days:
            day = self.cleaned_data.get(name)
            if day is None:
                continue
            if day in seen:
                self.add_error(name, _("Name another day: this one is named already."))
            elif day < self._today:
                self.add_error(name, _("This day is past."))
            elif day < self._start.date():
                self.add_error(name, _("This day comes before the visit: name a later one."))
            seen.add(day)
        return cast(dict[str, Any], self.cleaned_data)

    @property
    def visit(self) -> Visit:
        """What was chosen, once it is valid."""
        days = [self.cleaned_data[name] for name in self._days if self.cleaned_data.get(name)]
        typed = {key: self.cleaned_data[name] for name, key in self._lines.items()}
        return Visit(
            self.cleaned_data.get("until"), tuple(days), {key: text for key, text in typed.items() if text}
        )

    def left_blank(self, unsaid: Mapping[str, Sequence[ToTell]]) -> None:
        """Say beside each line who can't be sent an e-mail while it is blank."""
        names = {key: name for name, key in self._lines.items()}
        for key, people in unsaid.items():
            whom = ", ".join(one.contact.name or one.contact.email or one.contact.phone for one in people)
            words = _(
                "A law wants this said, and an e-mail can't be filled in by hand. "
                "Type it, or tell on paper: %(whom)s."
            )
            self.add_error(names.get(key), words % {"whom": whom})


def _typed_before(offered: Visit, zone: str) -> dict[str, Any]:
    until = offered.until and offered.until.astimezone(ZoneInfo(zone)).time()
    days = {f"alternate_{number}": day for number, day in enumerate(offered.alternates, 1)}
    return {"until": until, **days, **{line_name(key): text for key, text in offered.filled.items()}}


def line_name(key: str) -> str:
    """The name of the field for a line: the same whatever else is asked for."""
    return f"line_{digest(key.encode())[7:19]}"


def _to_type(line: Line) -> forms.CharField:
    """A field for a line that no record answers; words that a law prints are its own."""
    of_the_law = line.code == "statement"
    return forms.CharField(
        label=line.label,
        help_text=_("Nothing on record answers this. It stands so on each notice that asks for it."),
        required=False,
        max_length=LONGEST_STATEMENT if of_the_law else LONGEST,
        validators=[] if of_the_law else [promise_nothing],
        widget=forms.Textarea({"rows": 3}) if of_the_law else forms.TextInput(),
    )


class PersonForm(forms.Form):
    """One person: told or not, by which means, in which language."""

    tell = forms.BooleanField(required=False)
    means = forms.ChoiceField(label=gettext_lazy("How"), required=False)
    language = forms.ChoiceField(label=gettext_lazy("Language"), required=False)

    def __init__(self, data: Any, person: ToTell, spoken: str, where_entered: str = "") -> None:
        initial = {"tell": person.is_due and person.can_be_told, "language": " ".join(person.languages)}
        super().__init__(data, prefix=person.key, initial=initial)
        self.person, self.where_entered = person, where_entered
        self.to = WORD_LISTS["recipient"][person.contact.to].say(spoken)
        self.called = person.contact.name or ", ".join((self.to, *person.contact.address[:1]))
        words = WORD_LISTS["means"]
        self.failed = [_with_address(words[one].say(spoken), one, person) for one in sorted(person.failed)]
        means = cast(forms.ChoiceField, self.fields["means"])
        means.choices = [(one, words[one].say(spoken)) for one in person.ways]
        asked = any(one.duty.languages for one in person.telling.asks)
        offered = [" ".join(person.languages)] if asked else ["en", "es", BOTH]
        language = cast(forms.ChoiceField, self.fields["language"])
        language.choices = [(one, _said(one, spoken)) for one in offered]

    def clean(self) -> dict[str, Any]:
        if self.cleaned_data.get("tell") and not self.cleaned_data.get("means"):
            self.add_error("means", _("Choose how this person is told."))
        return cast(dict[str, Any], self.cleaned_data)

    @property
    def choice(self) -> Choice | None:
        """What was chosen, once it is valid; None for who is not told."""
        if not self.cleaned_data["tell"]:
            return None
        languages = (self.cleaned_data["language"] or " ".join(self.person.languages)).split()
        return Choice(self.cleaned_data["means"], tuple(languages))


def _said(languages: str, spoken: str) -> str:
    return " + ".join(said_language(one).say(spoken) for one in languages.split())


def _with_address(word: str, means: str, person: ToTell) -> str:
    reached = {"email": person.contact.email}.get(means, person.contact.phone if means in BY_NUMBER else "")
    return f"{word}, {reached}" if reached else word
