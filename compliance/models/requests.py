"""Who has asked for records, and what was handed over in answer."""

from uuid import uuid4

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned


class RecordsRequest(FirmOwned):
    """A demand for records. `wanted` is what the register is asked for; `duty` names the pack and the paragraph
    under which they ask, where a rule says so; `due_from` says whose word `due_at` is: `assumed` is the soonest
    that we know of, for who treats a person and named no paragraph that sets a time."""

    class Asker(models.TextChoices):
        REGULATOR = "regulator", _("Regulator")
        MEDICAL = "medical", _("Health personnel treating a person")
        WORKER = "worker", _("Worker, or who speaks for one")
        CUSTOMER = "customer", _("Customer")
        COURT = "court", _("Court")
        INSURER = "insurer", _("Insurer")
        OTHER = "other", _("Somebody else")

    class Means(models.TextChoices):
        LETTER = "letter", _("Letter")
        EMAIL = "email", _("E-mail")
        PHONE = "phone", _("Phone")
        IN_PERSON = "in-person", _("In person")

    class DueFrom(models.TextChoices):
        RULE = "rule", _("the rule")
        TYPED = "typed", _("what they set")
        ASSUMED = "assumed", _("the soonest that we know of")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    asked_by = models.CharField(_("who asks"), max_length=20, choices=Asker.choices)
    name = models.CharField(_("name"), max_length=200)
    contact = models.CharField(_("e-mail, phone or address"), max_length=300, blank=True)
    reference = models.CharField(_("their number"), max_length=100, blank=True)
    received_at = models.DateTimeField(_("received at"))
    means = models.CharField(_("received by"), max_length=20, choices=Means.choices)
    asked_for = models.TextField(_("what they ask for, in their words"), max_length=2000)
    wanted = models.JSONField(_("search of the register"), default=dict)
    duty = models.CharField(_("duty"), max_length=300, blank=True)
    due_at = models.DateTimeField(_("due at"), null=True)
    due_from = models.CharField(_("due by"), max_length=10, choices=DueFrom.choices, blank=True)
    they_set = models.DateTimeField(_("when they want it"), null=True)
    handled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", verbose_name=_("who sees to it")
    )
    made_at = models.DateTimeField(_("entered at"), default=clock.now)
    closed_at = models.DateTimeField(_("closed at"), null=True)
    closed_why = models.CharField(_("why it is closed"), max_length=500, blank=True)

    class Meta:
        verbose_name = _("request for records")
        verbose_name_plural = _("requests for records")
        ordering = ["-received_at"]
        indexes = [models.Index(fields=["firm", "closed_at", "due_at"], name="requests_by_due")]

    def __str__(self) -> str:
        return f"{self.name}, {self.received_at:%Y-%m-%d}"

    @property
    def paragraph(self) -> str:
        """The paragraph of `duty`, without its pack."""
        return self.duty.partition(": ")[2]


class RequestAnswer(AppendOnly, FirmOwned):
    """A bundle that was made in answer: its digest, and to whom it goes how."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    request = models.ForeignKey(
        RecordsRequest, models.PROTECT, related_name="answers", verbose_name=_("request for records")
    )
    handing = models.ForeignKey(
        "compliance.Handing", models.PROTECT, null=True, related_name="answers", verbose_name=_("bundle")
    )
    at = models.DateTimeField(_("at"), default=clock.now)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+", verbose_name=_("by"))
    to = models.CharField(_("handed to"), max_length=200)
    how = models.CharField(_("how"), max_length=200)
    treatments = models.JSONField(_("treatments"))
    withheld = models.JSONField(_("left out"), default=list)
    digest = models.CharField(_("digest of the file"), max_length=71)
    size = models.PositiveBigIntegerField(_("bytes"))

    class Meta:
        verbose_name = _("answer to a request for records")
        verbose_name_plural = _("answers to requests for records")
        ordering = ["-at"]

    def __str__(self) -> str:
        return f"{self.to}, {self.at:%Y-%m-%d %H:%M}"
