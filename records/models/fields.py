"""Columns that hold a word of one of the document's closed lists."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from records.document.words import WORD_LISTS, label


def word_choices(words: str) -> list[tuple[str, str]]:
    """The words of a closed list with their labels in the reader's language."""
    language = get_language() or "en"
    return [(word, label(words, word, language)) for word in WORD_LISTS[words]]


class WordField(models.CharField):
    """One word of the closed list `words`, such as `site_use`; the list may grow without a migration."""

    def __init__(self, *args: Any, words: str = "", **kwargs: Any) -> None:
        self.words = words
        super().__init__(*args, **{"max_length": 40, **kwargs})

    def validate(self, value: Any, model_instance: models.Model | None) -> None:
        super().validate(value, model_instance)
        if value and value not in WORD_LISTS[self.words]:
            raise ValidationError(_("%(word)s is not in the list."), params={"word": value}, code="word")

    @property
    def flatchoices(self) -> list[tuple[str, str]]:
        """The words as lists and filters of the admin say them."""
        return word_choices(self.words)

    def formfield(self, **kwargs: Any) -> Any:
        empty = [("", "—")] if self.blank else []
        return forms.ChoiceField(
            choices=lambda: empty + word_choices(self.words),
            required=not self.blank,
            label=kwargs.get("label", self.verbose_name),
            help_text=kwargs.get("help_text", self.help_text),
            initial=self.get_default() if self.has_default() else "",
        )
