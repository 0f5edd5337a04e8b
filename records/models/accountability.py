"""That a person stands for their signature, and that somebody else may have tried to use it."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class SignatureDeclaration(AppendOnly, FirmOwned):
    """A person has declared, once in a firm, that their signature binds them; `words` are what they read."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    words = models.TextField(_("words"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("declaration on a signature")
        verbose_name_plural = _("declarations on signatures")
        constraints = [models.UniqueConstraint(fields=["firm", "by"], name="one_declaration_of_a_person")]

    def __str__(self) -> str:
        return f"{self.by}, {self.at:%Y-%m-%d}"


class MisuseAlert(AppendOnly, FirmOwned):
    """So many passwords or second steps of a person did not fit, from `since` on, that somebody else may have
    tried them."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    user = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("whose"))
    tries = models.PositiveIntegerField(_("tries that failed"))
    since = models.DateTimeField(_("since"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("alert of misuse")
        verbose_name_plural = _("alerts of misuse")
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.user}, {self.at:%Y-%m-%d %H:%M}"


class MisuseLookedAt(AppendOnly, FirmOwned):
    """A manager has looked at the alert."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    alert = models.OneToOneField(
        MisuseAlert, models.PROTECT, related_name="look", verbose_name=_("alert of misuse")
    )
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("look at an alert")
        verbose_name_plural = _("looks at alerts")

    def __str__(self) -> str:
        return f"{self.alert}, {self.by}"
