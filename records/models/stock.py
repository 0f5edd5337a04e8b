"""What happened to the lots on the shelf, besides what treatments and tanks took of them."""

from typing import Any
from uuid import uuid4

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.products import Lot
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.orm.quantities import QuantityField
from shared.tenancy import FirmOwned


class StockMove(AppendOnly, FirmOwned):
    """Something that came, went or was counted, with its amount as typed; that the lot is set aside; or, `of`
    an earlier one, that it is taken back or explained. `off` is what a count differed by when it was explained,
    a fraction of L or kg."""

    holds = ("lot",)

    class Kind(models.TextChoices):
        PURCHASE = "purchase", _("Delivery")
        RETURN = "return", _("Given back to the supplier")
        DISPOSAL = "disposal", _("Disposed of or spilled")
        COUNT = "count", _("Count")
        SET_ASIDE = "set-aside", _("Set aside, not to be used")
        TAKEN_BACK = "taken-back", _("Taken back")
        EXPLAINED = "explained", _("Explained")

    WITH_AMOUNT = (Kind.PURCHASE, Kind.RETURN, Kind.DISPOSAL, Kind.COUNT)
    ABOUT_ANOTHER = (Kind.TAKEN_BACK, Kind.EXPLAINED)

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    lot = models.ForeignKey(Lot, models.PROTECT, related_name="moves", verbose_name=_("lot"))
    kind = models.CharField(_("what"), max_length=10, choices=Kind.choices)
    amount: Any = QuantityField(_("amount"), dimension=("volume", "mass"), null=True)
    on = models.DateField(_("day"))
    early = models.BooleanField(_("before the day's work"), default=False)
    why = models.CharField(_("from whom, where to or why"), max_length=500, blank=True)
    of = models.ForeignKey(
        "self", models.PROTECT, null=True, related_name="about", verbose_name=_("entry that it is about")
    )
    off = models.CharField(_("differed by"), max_length=100, blank=True, editable=False)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("entered at"), default=clock.now)

    class Meta:
        verbose_name = _("stock entry")
        verbose_name_plural = _("stock entries")
        ordering = ["on", "at"]
        constraints = [
            models.UniqueConstraint(
                fields=["of"], condition=Q(kind="taken-back"), name="stock_entry_taken_back_once"
            ),
            models.CheckConstraint(
                condition=Q(kind="set-aside", of__isnull=True, amount__isnull=True)
                | Q(kind__in=("taken-back", "explained"), of__isnull=False, amount__isnull=True)
                | Q(
                    kind__in=("purchase", "return", "disposal", "count"), of__isnull=True, amount__isnull=False
                ),
                name="stock_entry_has_amount_or_is_of_another",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.lot}, {self.on}"
