"""Files of people and parcels that were brought in, and those that wait until somebody has looked at them."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.places import Site
from shared import clock
from shared.tenancy import FirmOwned


class Register(FirmOwned):
    """An authority's list of those who are to be told, as of a day; a newer one of its source replaces it."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    authority = models.CharField(_("place"), max_length=60, help_text=_("For example us-wa."))
    name = models.CharField(_("name"), max_length=200)
    source = models.CharField(_("source"), max_length=200)
    as_of = models.DateField(_("as of"))

    class Meta:
        verbose_name = _("register")
        verbose_name_plural = _("registers")
        ordering = ["authority", "name"]
        constraints = [
            models.UniqueConstraint(fields=["firm", "authority", "source"], name="one_register_of_a_source")
        ]

    def __str__(self) -> str:
        return self.name


class PeopleFile(FirmOwned):
    """A file that was sent in. Its `content` stays only until it is taken or dropped; its digest tells a file
    that comes twice."""

    class Kind(models.TextChoices):
        NEIGHBOURS = "neighbours", _("list of addresses")
        PARCELS = "parcels", _("shapes of parcels")
        REGISTER = "register", _("register")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    kind = models.CharField(_("kind"), max_length=10, choices=Kind.choices)
    site = models.ForeignKey(
        Site, models.CASCADE, null=True, related_name="people_files", verbose_name=_("site")
    )
    register = models.ForeignKey(
        Register, models.SET_NULL, null=True, related_name="files", verbose_name=_("register")
    )
    asked = models.JSONField(_("what was said of it"), default=dict)
    source = models.CharField(_("source"), max_length=200)
    as_of = models.DateField(_("as of"))
    sha256 = models.CharField(_("digest"), max_length=64)
    rows = models.PositiveIntegerField(_("rows"), default=0)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)
    content = models.BinaryField(_("content"), null=True)
    taken_at = models.DateTimeField(_("taken at"), null=True)

    class Meta:
        verbose_name = _("file of people or parcels")
        verbose_name_plural = _("files of people and parcels")
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.source}, {self.as_of}"
