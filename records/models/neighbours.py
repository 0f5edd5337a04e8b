"""Who lives or owns near a site, on which ground, and that the list of them is complete.

What these rows say of people goes when no treatment needs it any more. So they keep no history and their
names in who did what are those of their site: neither could be taken back.
"""

from uuid import uuid4

from django.conf import settings
from django.db import models
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.firms import Address
from records.models.people_files import PeopleFile
from records.models.places import Site
from shared import clock
from shared.orm.quantities import QuantityField
from shared.tenancy import FirmOwned


class Reachable(Address):
    """Somebody who may have to be told, and how."""

    name = models.CharField(_("name"), max_length=200, blank=True)
    phone = models.CharField(_("phone"), max_length=40, blank=True)
    email = models.EmailField(_("e-mail"), blank=True)
    language = models.CharField(_("language"), max_length=2, choices=settings.LANGUAGES, blank=True, default="")
    wishes_phone = models.BooleanField(_("wishes to be called"), default=False)
    sensitive = models.BooleanField(_("has said that they are sensitive"), default=False)
    walk = models.PositiveIntegerField(
        _("place on the walk"), default=0, help_text=_("Doors are walked to in this order.")
    )

    class Meta:
        abstract = True


class Occupant(Reachable, FirmOwned):
    """Somebody who lives or works on the treated site itself."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    site = models.ForeignKey(Site, models.CASCADE, related_name="occupants", verbose_name=_("site"))

    class Meta:
        verbose_name = _("occupant")
        verbose_name_plural = _("occupants")
        ordering = ["walk", "line1", "line2", "uuid"]

    def __str__(self) -> str:
        return gettext("Occupant of %(site)s") % {"site": self.site.name}


class Parcel(Address, FirmOwned):
    """A piece of ground by its boundary: GeoJSON (RFC 7946) in degrees, longitude before latitude;
    and how far it reaches, to find what may hold a point."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    site = models.ForeignKey(Site, models.CASCADE, related_name="parcels", verbose_name=_("site"))
    number = models.CharField(_("parcel number"), max_length=100)
    shape = models.TextField(_("shape"))
    west = models.FloatField(default=0, editable=False)
    south = models.FloatField(default=0, editable=False)
    east = models.FloatField(default=0, editable=False)
    north = models.FloatField(default=0, editable=False)
    own = models.BooleanField(_("the treated site's own ground"), default=False)
    file = models.ForeignKey(
        PeopleFile,
        models.SET_NULL,
        null=True,
        related_name="parcels",
        verbose_name=_("file"),
        editable=False,
    )

    class Meta:
        verbose_name = _("parcel")
        verbose_name_plural = _("parcels")
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["site", "number"], name="one_parcel_of_a_number")]

    def __str__(self) -> str:
        return gettext("Parcel near %(site)s") % {"site": self.site.name}

    @property
    def without_address(self) -> str:
        """What it is called where no address is known."""
        return gettext("parcel %(number)s, no address") % {"number": self.number}


class Neighbour(Reachable, FirmOwned):
    """Somebody near a site. What is not known is None: the rules then can't tell, and say so."""

    class Known(models.TextChoices):
        ENTERED = "entered", _("entered by hand")
        LISTED = "listed", _("from a list")
        PARCELS = "parcels", _("worked out from the boundaries of both grounds")
        POSITION = "position", _("worked out from the site's position to the boundary of the ground")

    class Standing(models.TextChoices):
        OWNER = "owner", _("owner")
        OCCUPANT = "occupant", _("occupant")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    site = models.ForeignKey(Site, models.CASCADE, related_name="neighbours", verbose_name=_("site"))
    parcel = models.ForeignKey(
        Parcel,
        models.SET_NULL,
        null=True,
        blank=True,
        related_name="neighbours",
        verbose_name=_("parcel"),
    )
    standing = models.CharField(_("owner or occupant"), max_length=10, choices=Standing.choices, blank=True)
    dwelling = models.BooleanField(_("a dwelling"), null=True, blank=True)
    abutting = models.BooleanField(_("abuts the site"), null=True, blank=True)
    touches_at_corner = models.BooleanField(_("touches it at a corner only"), default=False, editable=False)
    distance = QuantityField(_("distance"), dimension="length", null=True, blank=True)
    known_by = models.CharField(
        _("how known"), max_length=10, choices=Known.choices, default=Known.ENTERED, editable=False
    )
    file = models.ForeignKey(
        PeopleFile,
        models.SET_NULL,
        null=True,
        related_name="neighbours",
        verbose_name=_("file"),
        editable=False,
    )

    class Meta:
        verbose_name = _("neighbour")
        verbose_name_plural = _("neighbours")
        ordering = ["walk", "line1", "line2", "name", "uuid"]

    def __str__(self) -> str:
        return gettext("Neighbour of %(site)s") % {"site": self.site.name}

    @property
    def door(self) -> str:
        """The street address, else the parcel's number with that word, else a dash."""
        return self.line1 or (self.parcel.without_address if self.parcel else "–")


class NeighbourList(FirmOwned):
    """Somebody's word that the list of a site's neighbours was complete on a day. Without one nobody knows
    whether there are others, and the rules are told so; the newest counts."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    site = models.ForeignKey(Site, models.CASCADE, related_name="neighbour_lists", verbose_name=_("site"))
    as_of = models.DateField(_("complete as of"))
    source = models.CharField(_("source"), max_length=200, blank=True)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"), editable=False)
    at = models.DateTimeField(_("at"), default=clock.now, editable=False)

    class Meta:
        verbose_name = _("statement on a list of neighbours")
        verbose_name_plural = _("statements on lists of neighbours")
        ordering = ["-as_of", "-at"]

    def __str__(self) -> str:
        return f"{self.site.name}, {self.as_of}"
