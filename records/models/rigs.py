"""Rigs, measurements of their output, and tanks that several treatments share."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.fields import WordField
from shared.history import firm_history
from shared.orm.quantities import QuantityField
from shared.tenancy import FirmOwned


class Rig(FirmOwned):
    """Tank, pump, hose and tip."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    name = models.CharField(_("name"), max_length=200)
    method = WordField(_("method"), words="method", default="powered-sprayer")
    identification = models.CharField(
        _("identification"), max_length=200, blank=True, help_text=_("For example its plate.")
    )
    tank = QuantityField(
        _("tank"), dimension="volume", null=True, blank=True, help_text=_("For example 35 gal.")
    )
    pressure = QuantityField(
        _("pressure"), dimension="pressure", null=True, blank=True, help_text=_("For example 60 psi.")
    )
    tip = models.CharField(_("tip"), max_length=200, blank=True)
    backflow = WordField(_("backflow protection"), words="backflow", blank=True)
    active = models.BooleanField(_("in use"), default=True)
    history = firm_history()

    class Meta:
        verbose_name = _("rig")
        verbose_name_plural = _("rigs")
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["firm", "name"], name="one_rig_of_a_name")]

    def __str__(self) -> str:
        return self.name


class Calibration(FirmOwned):
    """A dated measurement of a rig's output."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    rig = models.ForeignKey(Rig, models.CASCADE, related_name="calibrations", verbose_name=_("rig"))
    on = models.DateField(_("on"))
    flow = QuantityField(
        _("flow measured"), dimension="flow", null=True, blank=True, help_text=_("For example 2.2 gal/min.")
    )
    pressure = QuantityField(_("at pressure"), dimension="pressure", null=True, blank=True)
    by = models.CharField(_("by"), max_length=200, blank=True)
    note = models.CharField(_("note"), max_length=2000, blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("calibration")
        verbose_name_plural = _("calibrations")
        ordering = ["-on"]

    def __str__(self) -> str:
        return f"{self.rig}, {self.on}"


class Batch(FirmOwned):
    """A tank mixed once and shared by several treatments, whose loads name it by its id."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    rig = models.ForeignKey(
        Rig, models.PROTECT, null=True, blank=True, related_name="batches", verbose_name=_("rig")
    )
    mixed_at = models.DateTimeField(_("mixed at"))
    mixed_at_place = models.CharField(_("mixed where"), max_length=200, blank=True)
    products = models.JSONField(
        _("products"),
        default=list,
        help_text=_("Product lines with their amounts, in the shape of the treatment document."),
    )
    diluent = models.JSONField(_("diluent"), default=dict, blank=True)
    volume = QuantityField(_("volume"), dimension="volume", help_text=_("Of the whole tank: 30 gal."))
    left_over = QuantityField(_("left over"), dimension="volume", null=True, blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("batch")
        verbose_name_plural = _("batches")
        ordering = ["-mixed_at"]

    def __str__(self) -> str:
        return f"{self.volume.value} {self.volume.unit}, {self.mixed_at:%Y-%m-%d %H:%M}"
