"""Products, the dated versions of their labels, and the lots on the shelf."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.fields import WordField
from shared.history import firm_history
from shared.orm.quantities import QuantityField
from shared.tenancy import FirmOwned


class Product(FirmOwned):
    """A product that the firm uses; what its label says is in its label versions."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    name = models.CharField(_("name"), max_length=200, help_text=_("As on the container."))
    kind = WordField(_("kind"), words="product_kind", default="pesticide")
    regime = WordField(
        _("regime"),
        words="regime",
        default="pesticide",
        help_text=_("The law under which it is sold."),
    )
    supplier = models.CharField(_("usual supplier"), max_length=200, blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("product")
        verbose_name_plural = _("products")
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["firm", "name"], name="one_product_of_a_name")]

    def __str__(self) -> str:
        return self.name


class LabelVersion(FirmOwned):
    """One version of a product's label. Both days of its validity count."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    product = models.ForeignKey(Product, models.CASCADE, related_name="labels", verbose_name=_("product"))
    version = models.CharField(
        _("version"), max_length=60, help_text=_("As printed on the label, for example 2025-03.")
    )
    registration_number = models.CharField(_("registration number"), max_length=60, blank=True)
    signal_word = WordField(_("signal word"), words="signal_word", blank=True)
    restricted_use = models.BooleanField(_("restricted use"), null=True, blank=True)
    active_ingredients = models.JSONField(
        _("active ingredients"),
        default=list,
        blank=True,
        help_text=_('[{"name": "…", "percent": "38", "basis": "w/w"}]'),
    )
    density = QuantityField(
        _("density"), dimension="density", null=True, blank=True, help_text=_("For example 8.9 lb/gal.")
    )
    label = models.JSONField(
        _("what the label says"),
        default=dict,
        blank=True,
        help_text=_(
            "Targets, sites, limits, PPE and statements, in the shape of the treatment document's label."
        ),
    )
    valid_from = models.DateField(_("valid from"), null=True, blank=True)
    valid_to = models.DateField(_("valid to"), null=True, blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("label version")
        verbose_name_plural = _("label versions")
        ordering = ["-valid_from"]
        constraints = [models.UniqueConstraint(fields=["product", "version"], name="one_label_of_a_version")]

    def __str__(self) -> str:
        return f"{self.product}, {self.version}"


class Lot(FirmOwned):
    """Containers of one lot, with the label version that is on them."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    label = models.ForeignKey(
        LabelVersion, models.PROTECT, related_name="lots", verbose_name=_("label version")
    )
    number = models.CharField(_("lot number"), max_length=100)
    received_on = models.DateField(_("received on"), null=True, blank=True)
    amount = QuantityField(
        _("amount received"),
        dimension=("volume", "mass"),
        null=True,
        blank=True,
        help_text=_("With its unit: 5 gal."),
    )
    history = firm_history()

    class Meta:
        verbose_name = _("lot")
        verbose_name_plural = _("lots")
        ordering = ["-received_on", "number"]
        constraints = [models.UniqueConstraint(fields=["label", "number"], name="one_lot_of_a_number")]

    def __str__(self) -> str:
        return self.number
