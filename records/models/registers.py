"""Those whom an authority's register names. They go with the list that named them."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.as_written import refuse_unwritable
from records.models.firms import Address
from records.models.people_files import Register
from shared.tenancy import FirmOwned


class RegisteredPerson(Address, FirmOwned):
    """A person who is to be told, where the register says how and where."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    register = models.ForeignKey(Register, models.CASCADE, related_name="persons", verbose_name=_("register"))
    name = models.CharField(_("name"), max_length=200, blank=True)
    phone = models.CharField(_("phone"), max_length=40, blank=True)
    email = models.EmailField(_("e-mail"), blank=True)
    latitude = models.CharField(_("latitude"), max_length=20, blank=True)
    longitude = models.CharField(_("longitude"), max_length=20, blank=True)

    class Meta:
        verbose_name = _("registered person")
        verbose_name_plural = _("registered persons")
        ordering = ["postcode", "line1", "line2", "uuid"]

    def __str__(self) -> str:
        return self.register.name

    def clean(self) -> None:
        super().clean()
        position = {"latitude": self.latitude, "longitude": self.longitude}
        refuse_unwritable(["latitude", "longitude"], site={"position": position})
