"""The firm's people and the licences that they or the firm hold."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.as_written import refuse_unwritable
from records.models.fields import WordField
from records.models.firms import Address
from shared.history import firm_history
from shared.tenancy import FirmOwned


class Person(Address, FirmOwned):
    """Someone who works for the firm. Address and phone are the firm's unless the person has own ones."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    name = models.CharField(_("name"), max_length=200)
    role = WordField(_("usual role"), words="role", default="applicator")
    phone = models.CharField(_("phone"), max_length=40, blank=True)
    trained_on = models.DateField(
        _("trained on"), null=True, blank=True, help_text=_("Day of the last safety training.")
    )
    active = models.BooleanField(
        _("works here"), default=True, help_text=_("Untick when the person leaves; never delete.")
    )
    history = firm_history()

    class Meta:
        verbose_name = _("person")
        verbose_name_plural = _("people")
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["firm", "name"], name="one_person_of_a_name")]

    def __str__(self) -> str:
        return self.name


class Licence(FirmOwned):
    """A certification of a person, or of the firm itself when no person is named. Both days count."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    person = models.ForeignKey(
        Person,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="licences",
        verbose_name=_("person"),
        help_text=_("Leave empty for the firm's own licence."),
    )
    authority = models.CharField(
        _("authority"), max_length=80, help_text=_("The place that issued it, for example us-wa.")
    )
    kind = models.CharField(
        _("kind"), max_length=200, help_text=_("As printed on it, for example commercial operator.")
    )
    number = models.CharField(_("number"), max_length=100)
    holder = models.CharField(
        _("holder"),
        max_length=200,
        blank=True,
        help_text=_("On the firm's licence: who holds it for the firm."),
    )
    categories = models.JSONField(
        _("categories"), default=list, blank=True, help_text=_('For example ["ornamental-turf"].')
    )
    valid_from = models.DateField(_("valid from"), null=True, blank=True)
    valid_to = models.DateField(_("valid to"), null=True, blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("licence")
        verbose_name_plural = _("licences")
        ordering = ["-valid_to"]

    def __str__(self) -> str:
        return f"{self.kind} {self.number}"

    def clean(self) -> None:
        columns = {"authority": self.authority, "categories": self.categories}
        written = {name: value for name, value in columns.items() if value}
        refuse_unwritable(columns, firm={"licences": [written]})
