"""Firms and who belongs to them."""

from typing import Any, ClassVar
from uuid import uuid4

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, URLValidator
from django.db import models, transaction
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.as_written import refuse_unwritable
from shared import clock
from shared.history import PastFirm, firm_history
from shared.tenancy import FirmManager, FirmOwned, FirmQuerySet


class Address(models.Model):
    """The parts of a postal address, as the document holds them."""

    line1 = models.CharField(_("street and number"), max_length=200, blank=True)
    line2 = models.CharField(_("address, second line"), max_length=200, blank=True)
    city = models.CharField(_("city"), max_length=200, blank=True)
    region = models.CharField(
        _("state or region"), max_length=100, blank=True, help_text=_("For example WA.")
    )
    postcode = models.CharField(_("postcode"), max_length=20, blank=True)
    country = models.CharField(
        _("country"), max_length=2, blank=True, default="US", help_text=_("Two letters.")
    )

    class Meta:
        abstract = True

    def clean(self) -> None:
        super().clean()
        refuse_unwritable(["country"], customer={"address": {"country": self.country}})


class Firm(Address):
    """The business that holds the licence; the unit of separation."""

    class Paper(models.TextChoices):
        LETTER = "letter", _("US Letter")
        A4 = "a4", _("A4")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    name = models.CharField(_("name"), max_length=200, help_text=_("As on the firm's licence."))
    phone = models.CharField(_("phone"), max_length=40, blank=True)
    insurer = models.CharField(_("insurer"), max_length=200, blank=True)
    insurance_policy = models.CharField(_("insurance policy"), max_length=100, blank=True)
    insurance_cover = models.CharField(
        _("sum insured"), max_length=20, blank=True, help_text=_("Digits only.")
    )
    insurance_currency = models.CharField(_("currency"), max_length=3, blank=True, default="USD")
    paper = models.CharField(_("paper"), max_length=6, choices=Paper.choices, default=Paper.LETTER)
    language = models.CharField(
        _("language of papers"), max_length=2, choices=settings.LANGUAGES, default="en"
    )
    time_zone = models.CharField(
        _("time zone"),
        max_length=60,
        default="America/Los_Angeles",
        help_text=_("New sites start with this."),
    )
    jurisdictions = models.JSONField(
        _("places whose rules apply"),
        default=list,
        blank=True,
        help_text=_('New sites start with these, wide to narrow: ["us", "us-wa"].'),
    )
    reads_pictures = models.BooleanField(
        _("show what photos say of time and place"),
        default=False,
        help_text=_("Cameras write both into a photo. Without a tick nothing of it is read."),
    )
    email = models.EmailField(_("e-mail"), blank=True, help_text=_("Where answers to notices go."))
    text_message_address = models.CharField(
        _("where text messages go"),
        max_length=500,
        validators=[URLValidator(["https", "http"])],
        blank=True,
        help_text=_("The address of your sender of text messages. It begins with https://"),
    )
    stock_share = models.DecimalField(
        _("stock may differ by, percent"),
        max_digits=5,
        decimal_places=2,
        default=5,
        validators=[MinValueValidator(0), MaxValueValidator(100)],
        help_text=_("A count that differs by more is shown to you. 5 is common practice; no rule sets it."),
    )
    history = firm_history(PastFirm)

    across_firms = models.Manager.from_queryset(FirmQuerySet)()
    objects = FirmManager("pk")

    class Meta:
        verbose_name = _("firm")
        verbose_name_plural = _("firms")

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        super().clean()
        site = {"time_zone": self.time_zone, "jurisdictions": self.jurisdictions}
        refuse_unwritable(["time_zone", "jurisdictions"], site=site)
        self._refuse_what_can_t_be_posted_to()

    def _refuse_what_can_t_be_posted_to(self) -> None:
        address = self.text_message_address
        if not address.isascii():
            wrong = _("Write it in plain letters: ñ in a path is %C3%B1, a name of a host begins with xn--")
        elif address and not settings.TEXT_MESSAGES_ANYWHERE and not address.lower().startswith("https://"):
            wrong = _("The address begins with https://")
        else:
            return
        raise ValidationError({"text_message_address": wrong})

    def keep_within_one_firm(self) -> None:
        """A firm belongs to itself."""

    @transaction.atomic(savepoint=False)
    def save(self, *args: Any, **kwargs: Any) -> None:
        """With its history in one transaction."""
        super().save(*args, **kwargs)


class Membership(FirmOwned):
    """What one user may do in one firm, and which person of the firm the user is."""

    class Role(models.TextChoices):
        CREW = "crew", _("Crew: fills in and signs treatments")
        MANAGER = "manager", _("Manager: crew's rights, corrections and reference data")
        OFFICE = "office", _("Office: plans treatments, signs none")
        INSPECTOR = "inspector", _("Inspector: reads, changes nothing")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    user = models.ForeignKey(User, models.PROTECT, related_name="memberships", verbose_name=_("user"))
    person = models.OneToOneField(
        "records.Person",
        models.SET_NULL,
        null=True,
        blank=True,
        related_name="membership",
        verbose_name=_("person"),
        help_text=_("Who this user is among the firm's people."),
    )
    role = models.CharField(_("role"), max_length=10, choices=Role.choices, default=Role.CREW)
    active = models.BooleanField(
        _("active"), default=True, help_text=_("Untick to end access; never delete.")
    )
    invited_at = models.DateTimeField(_("invited at"), default=clock.now, editable=False)
    accepted_at = models.DateTimeField(
        _("accepted at"),
        null=True,
        editable=False,
        help_text=_("By the owner of the account; before that it counts for nothing."),
    )
    history = firm_history()

    class Meta:
        verbose_name = _("member")
        verbose_name_plural = _("members")
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["firm", "user"], name="one_membership_in_a_firm")
        ]

    def __str__(self) -> str:
        who = self.user if self.accepted_at else self.user.email
        return f"{who} ({self.get_role_display().partition(':')[0]})"
