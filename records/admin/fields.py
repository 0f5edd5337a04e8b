"""Form fields in which a person types what a column holds as JSON."""

import re
from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from records.models.fields import word_choices


class ListField(forms.CharField):
    """A list of texts, typed with commas between them: `us, us-wa`."""

    def prepare_value(self, value: Any) -> Any:
        return ", ".join(value) if isinstance(value, list) else value

    def to_python(self, value: Any) -> list[str]:
        texts = value if isinstance(value, list) else (value or "").split(",")
        return [text.strip() for text in texts if text.strip()]

    def has_changed(self, initial: Any, data: Any) -> bool:
        return self.to_python(initial) != self.to_python(data)


class LinesField(ListField):
    """A list of texts, one a line."""

    widget = forms.Textarea(attrs={"rows": 4})

    def prepare_value(self, value: Any) -> Any:
        return "\n".join(value) if isinstance(value, list) else value

    def to_python(self, value: Any) -> list[str]:
        lines: Iterable[str] = value if isinstance(value, list) else (value or "").splitlines()
        return [line.strip() for line in lines if line.strip()]


class PitchField(forms.CharField):
    """One of the two numbers of a pitch; who types both, as on a drawing, is told where each goes."""

    def to_python(self, value: Any) -> str:
        typed = str(super().to_python(value))
        if both := re.fullmatch(r"\s*([0-9.]+)\s*(?:[/:]|in|en)\s*([0-9.]+)\s*", typed, re.IGNORECASE):
            rise, run = both.groups()
            said = _("These are two numbers: enter %(rise)s as the rise and %(run)s as the run.")
            raise ValidationError(said, params={"rise": rise, "run": run}, code="pitch")
        return typed


class WordsField(forms.MultipleChoiceField):
    """Some words of one of the document's closed lists, ticked."""

    widget = forms.CheckboxSelectMultiple

    def __init__(self, words: str, **kwargs: Any) -> None:
        super().__init__(choices=lambda: word_choices(words), required=False, **kwargs)
