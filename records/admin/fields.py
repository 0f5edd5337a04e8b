"""Form fields in which a person types what a column holds as JSON."""

from collections.abc import Iterable
from typing import Any

from django import forms

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


class WordsField(forms.MultipleChoiceField):
    """Some words of one of the document's closed lists, ticked."""

    widget = forms.CheckboxSelectMultiple

    def __init__(self, words: str, **kwargs: Any) -> None:
        super().__init__(choices=lambda: word_choices(words), required=False, **kwargs)
