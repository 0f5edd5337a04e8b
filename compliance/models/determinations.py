"""The firm's own answers to open questions."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from shared.history import firm_history
from shared.tenancy import FirmOwned


class Determination(FirmOwned):
    """The firm's own dated answer to an open question of a pack, and on whose advice. Both days count."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    question = models.CharField(
        _("question"), max_length=200, help_text=_("Its id, as the check sheet names it.")
    )
    answer = models.CharField(_("answer"), max_length=200)
    by = models.CharField(_("decided by"), max_length=200)
    advice = models.CharField(_("on whose advice"), max_length=2000, blank=True)
    valid_from = models.DateField(_("valid from"))
    valid_to = models.DateField(_("valid to"), null=True, blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("answer to an open question")
        verbose_name_plural = _("answers to open questions")
        ordering = ["question", "-valid_from"]

    def __str__(self) -> str:
        return f"{self.question}: {self.answer}"
