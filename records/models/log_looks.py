"""What looks at a firm's log came to."""

from typing import Any
from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class LogLook(AppendOnly, FirmOwned):
    """A look at the whole log: how far it went, its root, and what did not hold.

    `broken` are `{whose, wording, en, es}`, the first of `faults`; `whose` is a record's number and version,
    empty for the log itself. `by` is empty for the daily look.
    """

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    at = models.DateTimeField(_("at"), default=clock.now)
    by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("by"))
    entries = models.PositiveBigIntegerField(_("entries"))
    root = models.CharField(_("root"), max_length=80)
    faults = models.PositiveIntegerField(_("how many things do not hold"))
    broken: Any = models.JSONField(_("what does not hold"), default=list)

    class Meta:
        verbose_name = _("look at the log")
        verbose_name_plural = _("looks at the log")
        ordering = ["-at"]
        indexes = [models.Index(fields=["firm", "-at"], name="newest_looks")]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M}"

    @property
    def is_whole(self) -> bool:
        return self.faults == 0
