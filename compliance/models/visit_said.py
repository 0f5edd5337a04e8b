"""What the notices of one treatment say of the visit, as it was typed."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models import Treatment
from shared.tenancy import FirmOwned


class VisitSaid(FirmOwned):
    """Until when the crew is there, the other days that are named, and by its key each line that no record
    answers: the next round of notices begins with it. `until` is by the clock at the site."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.OneToOneField(Treatment, models.CASCADE, related_name="+", verbose_name=_("treatment"))
    until = models.TimeField(_("until"), null=True)
    alternate_dates = models.JSONField(_("alternate dates"), default=list)
    filled = models.JSONField(_("lines that were typed"), default=dict)

    class Meta:
        verbose_name = _("what notices say of a visit")
        verbose_name_plural = _("what notices say of visits")

    def __str__(self) -> str:
        return str(self.treatment)
