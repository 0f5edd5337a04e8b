"""What went wrong, what was done about it, who was told, and how it ended."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.document.words import label
from records.models.accounts import User
from records.models.fields import WordField
from records.models.places import Site
from records.models.products import Product
from records.models.signed import SignedFollowUp
from records.models.treatments import Treatment
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.orm.quantities import QuantityField
from shared.orm.shrinking import Shrinking
from shared.tenancy import FirmOwned


class Incident(FirmOwned):
    """Something that went wrong at a treatment, or at none, as a spill in the store.

    `item` is its id in the treatment's document, where it stands there; `follow_up` what was signed of it
    after the record. `names` alone says who was affected: papers leave it out unless somebody asks for it.
    """

    class State(models.TextChoices):
        OPEN = "open", _("open")
        REPORTED = "reported", _("reported")
        CLOSED = "closed", _("closed")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    kind = WordField(_("kind"), words="incident_kind")
    state = models.CharField(_("state"), max_length=10, choices=State.choices, default=State.OPEN)
    treatment = models.ForeignKey(
        Treatment, models.PROTECT, null=True, related_name="incidents_told", verbose_name=_("treatment")
    )
    item = models.CharField(_("place in the treatment's document"), max_length=64, blank=True)
    follow_up = models.ForeignKey(
        SignedFollowUp, models.PROTECT, null=True, related_name="+", verbose_name=_("follow-up")
    )
    place = models.CharField(_("where"), max_length=300, blank=True)
    happened_at = models.DateTimeField(_("happened at"))
    known_at = models.DateTimeField(_("known to the firm at"))
    description = models.TextField(_("what happened"), max_length=4000, blank=True)
    product = models.ForeignKey(Product, models.PROTECT, null=True, related_name="+", verbose_name=_("product"))
    amount = QuantityField(_("amount"), dimension=("volume", "mass"), null=True, blank=True)
    reached = models.JSONField(_("how far it got"), default=list, blank=True)
    affected = models.TextField(_("who or what was affected"), max_length=2000, blank=True)
    names = models.TextField(_("names of those affected"), max_length=2000, blank=True)
    action = models.TextField(_("what was done"), max_length=4000, blank=True)
    begun_by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("entered by"))
    begun_at = models.DateTimeField(_("entered at"), default=clock.now)

    class Meta:
        verbose_name = _("incident")
        verbose_name_plural = _("incidents")
        ordering = ["-happened_at"]
        indexes = [models.Index(fields=["firm", "state", "-happened_at"], name="incidents_by_state")]

    def __str__(self) -> str:
        return f"{label('incident_kind', self.kind, 'en')}, {self.happened_at:%Y-%m-%d}"

    @property
    def is_closed(self) -> bool:
        return self.state == self.State.CLOSED

    @property
    def site(self) -> Site | None:
        return self.treatment.site if self.treatment else None

    @property
    def time_zone(self) -> str:
        """Of where it happened: the site's, else the firm's."""
        return (self.site and self.site.time_zone) or str(self.firm.time_zone)

    @property
    def jurisdictions(self) -> list[str]:
        """The places whose rules apply there, from wide to narrow."""
        return list((self.site and self.site.jurisdictions) or self.firm.jurisdictions)

    @property
    def country(self) -> str:
        return str(self.site.country if self.site else self.firm.country)


class IncidentEntry(AppendOnly, FirmOwned):
    """One thing that was done about an incident. `duty` names the pack and the paragraph that a report, or the
    word that none is owed, answers to. Its words go once the incident's erasure is there."""

    holds = ("incident",)
    shrinks = Shrinking("records.IncidentErasure", by="incident", emptied=("to", "text"))

    class Kind(models.TextChoices):
        TOLD = "told", _("told")
        NOT_OWED = "not-owed", _("need not be told")
        NOTE = "note", _("followed up")
        CLOSED = "closed", _("closed")
        OPENED = "opened", _("opened again")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    incident = models.ForeignKey(Incident, models.PROTECT, related_name="entries", verbose_name=_("incident"))
    kind = models.CharField(_("kind"), max_length=10, choices=Kind.choices)
    at = models.DateTimeField(_("at"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    made_at = models.DateTimeField(_("entered at"), default=clock.now)
    duty = models.CharField(_("duty"), max_length=300, blank=True)
    to = models.CharField(_("to whom"), max_length=200, blank=True)
    how = models.CharField(_("how"), max_length=100, blank=True)
    number = models.CharField(_("their number"), max_length=100, blank=True)
    text = models.TextField(_("what was said"), max_length=4000, blank=True)

    class Meta:
        verbose_name = _("entry on an incident")
        verbose_name_plural = _("entries on incidents")
        ordering = ["made_at"]

    def __str__(self) -> str:
        return f"{self.kind}, {self.at:%Y-%m-%d %H:%M}"

    @property
    def paragraph(self) -> str:
        """The paragraph of `duty`, without its pack."""
        return self.duty.partition(": ")[2]


class IncidentErasure(AppendOnly, FirmOwned):
    """What an incident and its entries say in words was erased, with the record of its treatment."""

    holds = ("incident",)

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    incident = models.OneToOneField(
        Incident, models.PROTECT, related_name="erasure", verbose_name=_("incident")
    )
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("erasure of an incident")
        verbose_name_plural = _("erasures of incidents")
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.incident}, {self.at:%Y-%m-%d}"
