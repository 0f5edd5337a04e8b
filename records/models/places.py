"""Customers, and their sites with the surfaces and what must be protected there."""

from fractions import Fraction
from uuid import uuid4

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import RegexValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.as_written import refuse_unwritable
from records.models.fields import WordField
from records.models.firms import Address
from shared.geometry import slope_area
from shared.history import firm_history
from shared.orm.quantities import QuantityField
from shared.quantities import Quantity
from shared.tenancy import FirmOwned

PITCH = RegexValidator(r"^(0|[1-9][0-9]{0,3})(\.[0-9]{1,4})?$", _("Digits, for example 6 or 4.5."))
ABOVE_ZERO = RegexValidator(r"[1-9]", _("This must be above 0."))


class Customer(Address, FirmOwned):
    """Who a treatment is for."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    name = models.CharField(_("name"), max_length=200)
    phone = models.CharField(_("phone"), max_length=40, blank=True)
    email = models.EmailField(_("e-mail"), blank=True)
    language = models.CharField(_("language"), max_length=2, choices=settings.LANGUAGES, default="en")
    history = firm_history()

    class Meta:
        verbose_name = _("customer")
        verbose_name_plural = _("customers")
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Site(Address, FirmOwned):
    """The address treated."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="sites", verbose_name=_("customer"))
    name = models.CharField(_("name"), max_length=200, help_text=_("For example: House, 4 Heron Row."))
    county = models.CharField(_("county"), max_length=200, blank=True)
    jurisdictions = models.JSONField(
        _("places whose rules apply"),
        default=list,
        blank=True,
        help_text=_('From wide to narrow: ["us", "us-wa"].'),
    )
    time_zone = models.CharField(
        _("time zone"), max_length=60, blank=True, help_text=_("For example America/Los_Angeles.")
    )
    latitude = models.CharField(_("latitude"), max_length=20, blank=True)
    longitude = models.CharField(_("longitude"), max_length=20, blank=True)
    use = WordField(_("use"), words="site_use", default="residence")
    indoors = models.BooleanField(_("indoors"), default=False)
    history = firm_history()

    class Meta:
        verbose_name = _("site")
        verbose_name_plural = _("sites")
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        super().clean()
        position = {"latitude": self.latitude, "longitude": self.longitude}
        site = {"time_zone": self.time_zone, "jurisdictions": self.jurisdictions, "position": position}
        refuse_unwritable(["time_zone", "jurisdictions", "latitude", "longitude"], site=site)


class Surface(FirmOwned):
    """One roof slope, walk, drive, wall or deck. With a pitch, its area is that on the slope."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    site = models.ForeignKey(Site, models.CASCADE, related_name="surfaces", verbose_name=_("site"))
    name = models.CharField(_("name"), max_length=200, help_text=_("For example: Main roof, north slope."))
    kind = WordField(_("kind"), words="surface_kind", default="roof")
    material = models.CharField(
        _("material"), max_length=200, blank=True, help_text=_("For example: asphalt shingle.")
    )
    plan_area = QuantityField(
        _("plan area"),
        dimension="area",
        null=True,
        blank=True,
        help_text=_("As seen from above, with its unit: 1200 ft**2."),
    )
    rise = models.CharField(
        validators=[PITCH],
        verbose_name=_("pitch, rise"),
        max_length=12,
        blank=True,
        help_text=_("For 6 in 12: 6."),
    )
    run = models.CharField(
        validators=[PITCH, ABOVE_ZERO],
        verbose_name=_("pitch, run"),
        max_length=12,
        blank=True,
        help_text=_("For 6 in 12: 12."),
    )
    history = firm_history()

    class Meta:
        verbose_name = _("surface")
        verbose_name_plural = _("surfaces")
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["site", "name"], name="one_surface_of_a_name")]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        super().clean()
        if bool(self.rise) != bool(self.run):
            raise ValidationError({"run": _("A pitch needs both its rise and its run.")}, code="pitch")

    @property
    def slope_area(self) -> Quantity | None:
        """The area along the slope, in the unit of the plan area; the plan area itself without a pitch."""
        if self.plan_area is None or not (self.rise and self.run):
            return self.plan_area
        return slope_area(self.plan_area, Fraction(self.rise), Fraction(self.run))


class Feature(FirmOwned):
    """What must be protected at a site."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    site = models.ForeignKey(Site, models.CASCADE, related_name="features", verbose_name=_("site"))
    kind = WordField(_("kind"), words="feature_kind", default="downspout")
    name = models.CharField(_("name"), max_length=200, help_text=_("For example: north-west downspout."))
    distance = QuantityField(
        _("distance"),
        dimension="length",
        null=True,
        blank=True,
        help_text=_("Horizontal, from the nearest treated edge: 22 ft."),
    )
    bearing = QuantityField(
        _("bearing"),
        dimension="angle",
        null=True,
        blank=True,
        help_text=_("From the surface, true north: 200 degree."),
    )
    discharges_to = WordField(_("discharges to"), words="discharge", blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("feature")
        verbose_name_plural = _("features")
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["site", "name"], name="one_feature_of_a_name")]

    def __str__(self) -> str:
        return self.name
