"""A treatment: one row of keys and state, one working document, and the columns projected from it."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.places import Site
from shared import clock
from shared.orm.quantities import ProjectedQuantityField
from shared.tenancy import FirmOwned


class NumberSeries(FirmOwned):
    """How far a firm's treatments of one year are numbered; gaps are allowed."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    year = models.PositiveIntegerField()
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["firm", "year"], name="one_series_in_a_year")]

    def __str__(self) -> str:
        return f"{self.year}-{self.last:04}"


class Treatment(FirmOwned):
    """One application at one site on one day, from plan to record.

    `document` is the working document; once signed, the newest signed version of it. `planned_at` and
    the columns from `day` on are projected from it by `records.services.projection` and never edited. While
    a correction is being written (`correcting`) they stay those of the version that is signed.
    """

    class State(models.TextChoices):
        DRAFT = "draft", _("Draft")
        SIGNED = "signed", _("Signed")
        CORRECTING = "correcting", _("Signed, correction being written")
        CORRECTED = "corrected", _("Corrected")
        VOID = "void", _("Void")
        BROUGHT_IN = "brought-in", _("Brought in")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    site = models.ForeignKey(Site, models.PROTECT, related_name="treatments", verbose_name=_("site"))
    number = models.CharField(_("number"), max_length=20, editable=False)
    state = models.CharField(_("state"), max_length=10, choices=State.choices, default=State.DRAFT)
    planned_at = models.DateTimeField(_("planned for"))
    planned_by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("planned by"))
    document = models.JSONField(_("document"), default=dict)
    revision = models.PositiveIntegerField(_("revision"), default=0)
    unread = models.JSONField(_("entries not understood"), default=dict, blank=True)
    created_at = models.DateTimeField(_("made at"), default=clock.now, editable=False)

    day = models.DateField(_("day"))
    site_name = models.CharField(_("site"), max_length=2000, blank=True)
    customer_name = models.CharField(_("customer"), max_length=2000, blank=True)
    applicators = models.TextField(_("applicators"), blank=True)
    products = models.TextField(_("products"), blank=True)
    result = models.CharField(_("result"), max_length=40, blank=True)
    treated_area = ProjectedQuantityField(_("treated area, m²"), dimension="area", null=True)
    strongest_wind = ProjectedQuantityField(_("strongest wind, m/s"), dimension="speed", null=True)
    site_key = models.CharField(max_length=100, blank=True, editable=False)
    customer_key = models.CharField(max_length=100, blank=True, editable=False)
    outcome = models.CharField(_("outcome of the last check"), max_length=20, blank=True)
    wind_limit = ProjectedQuantityField(_("wind limit in force, m/s"), dimension="speed", null=True)
    keep_until = models.DateField(_("kept until"), null=True, editable=False)

    class Meta:
        verbose_name = _("treatment")
        verbose_name_plural = _("treatments")
        ordering = ["-day", "-uuid"]
        constraints = [models.UniqueConstraint(fields=["firm", "number"], name="one_treatment_of_a_number")]
        indexes = [
            models.Index(fields=["firm", "-day", "-uuid"], name="treatment_register"),
            models.Index(fields=["firm", "uuid"], name="treatment_by_key"),
            models.Index(fields=["site", "day"], name="treatment_site_day"),
            models.Index(fields=["firm", "keep_until"], name="treatment_kept_until"),
            models.Index(fields=["firm", "customer_key", "-day", "-uuid"], name="treatment_by_customer"),
            models.Index(fields=["firm", "site_key", "-day", "-uuid"], name="treatment_by_site"),
            models.Index(fields=["firm", "-strongest_wind", "-uuid"], name="treatment_by_wind"),
            models.Index(fields=["firm", "outcome", "-day", "-uuid"], name="treatment_by_outcome"),
            models.Index(fields=["firm", "state", "-day", "-uuid"], name="treatment_by_state"),
        ]

    def __str__(self) -> str:
        return self.number

    @property
    def is_open(self) -> bool:
        """Whether its document may be edited."""
        return self.state in (self.State.DRAFT, self.State.CORRECTING)

    @property
    def is_brought_in(self) -> bool:
        """Whether it is from older records: nobody signed it here, and it can be taken back."""
        return self.state == self.State.BROUGHT_IN

    @property
    def is_off(self) -> bool:
        """Whether it does not take place: stood down on the day or ahead of it, or made void."""
        return self.result == "stood-down" or self.state == self.State.VOID


NEVER_SIGNED = (Treatment.State.DRAFT, Treatment.State.BROUGHT_IN)
"""The states of what nobody has signed; what was brought in from elsewhere never is."""
SIGNED_STATES = (Treatment.State.SIGNED, Treatment.State.CORRECTING, Treatment.State.CORRECTED)
"""The states in which a signed version holds."""


class TreatmentProduct(FirmOwned):
    """One product line of a treatment's document, projected for sums by SQL. Volumes in L, masses in kg."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(Treatment, models.CASCADE, related_name="product_lines")
    name = models.CharField(_("name"), max_length=2000, blank=True)
    registration_number = models.CharField(_("registration number"), max_length=2000, blank=True)
    lot = models.CharField(_("lot"), max_length=2000, blank=True)
    mixed_volume = ProjectedQuantityField(dimension="volume", null=True)
    mixed_mass = ProjectedQuantityField(dimension="mass", null=True)
    applied_volume = ProjectedQuantityField(dimension="volume", null=True)
    applied_mass = ProjectedQuantityField(dimension="mass", null=True)

    class Meta:
        indexes = [
            models.Index(fields=["firm", "registration_number"], name="line_registration_number"),
            models.Index(fields=["firm", "lot"], name="line_lot"),
        ]

    def __str__(self) -> str:
        return self.name


class TreatmentEdit(FirmOwned):
    """One edit of a working document; `edit_id` was made where the edit was, so that a repeat is harmless."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(Treatment, models.CASCADE, related_name="edits")
    edit_id = models.CharField(max_length=100)
    path = models.CharField(max_length=1000)
    value = models.JSONField(null=True)
    revision = models.PositiveIntegerField()
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=clock.now)

    class Meta:
        ordering = ["revision"]
        constraints = [
            models.UniqueConstraint(fields=["treatment", "edit_id"], name="one_edit_of_an_id"),
            models.UniqueConstraint(fields=["treatment", "revision"], name="one_edit_makes_a_revision"),
        ]

    def __str__(self) -> str:
        return self.path
