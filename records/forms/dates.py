"""Days that a person types into a form and that are written into a document."""

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from records.document.time_kinds import YEARS


def in_a_documents_years(day: date) -> None:
    if day.year not in YEARS:
        years = {"first": YEARS.start, "last": YEARS.stop - 1}
        raise ValidationError(_("Give a year from %(first)s to %(last)s."), params=years, code="year")


def year_sentence(day: str) -> str:
    """What is wrong with the year of a typed day; nothing where a document takes it, or it is no day."""
    try:
        in_a_documents_years(date.fromisoformat(day.strip()))
    except ValidationError as error:
        return error.messages[0]
    except ValueError:
        return ""
    return ""


class DayField(forms.DateField):
    """A day in the years that a document takes."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.validators.append(in_a_documents_years)
