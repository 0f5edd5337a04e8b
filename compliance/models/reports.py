"""Periodic reports as they were filed."""

from uuid import uuid4

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class FiledReport(AppendOnly, FirmOwned):
    """A report as it was sent: `content` holds every figure with the records behind it, `digest` is over it.

    One that amends another has the next `version` and says why. `county` is empty where the report is not one
    of a county.
    """

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    rule = models.CharField(_("rule"), max_length=200)
    period = models.CharField(_("period"), max_length=7)
    county = models.CharField(_("county"), max_length=300, blank=True)
    version = models.PositiveIntegerField(_("version"), default=1)
    sent_on = models.DateField(_("sent on"))
    how = models.CharField(_("how it was sent"), max_length=300)
    reason = models.CharField(_("why it amends the one before"), max_length=500, blank=True)
    content = models.JSONField(_("content"))
    digest = models.CharField(_("digest"), max_length=71)
    at = models.DateTimeField(_("at"), default=clock.now)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", verbose_name=_("by"))

    class Meta:
        verbose_name = _("filed report")
        verbose_name_plural = _("filed reports")
        ordering = ["-at"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "rule", "period", "county", "version"], name="one_filed_report_of_a_version"
            )
        ]

    def __str__(self) -> str:
        return f"{self.rule} {self.period}"
