"""A firm's own words on its notices."""

from uuid import uuid4

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from compliance.own_words import LONGEST, faults_of
from shared.history import firm_history
from shared.tenancy import FirmOwned
from shared.wording import LANGUAGES


def promise_nothing(text: str) -> None:
    """Raises ValidationError for words that may not stand on a notice."""
    language = (get_language() or "en").partition("-")[0]
    spoken = language if language in LANGUAGES else "en"
    if faults := faults_of(text):
        raise ValidationError([fault.say(spoken) for fault in faults])


class NoticeWords(FirmOwned):
    """A short text that the firm adds to its notices in one language."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    language = models.CharField(_("language"), max_length=2, choices=settings.LANGUAGES)
    text = models.CharField(_("text"), max_length=LONGEST, validators=[promise_nothing])
    history = firm_history()

    class Meta:
        verbose_name = _("own words on notices")
        verbose_name_plural = _("own words on notices")
        ordering = ["language"]
        constraints = [models.UniqueConstraint(fields=["firm", "language"], name="one_text_a_language")]

    def __str__(self) -> str:
        return self.text
