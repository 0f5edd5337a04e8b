"""By what the register finds treatments, and the searches that people keep."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.treatments import Treatment
from shared import clock
from shared.tenancy import FirmOwned


class RegisterTerm(FirmOwned):
    """A name, number or word by which treatments are found; each once in a firm, `folded` as it is compared."""

    id = models.BigAutoField(primary_key=True)
    kind = models.CharField(_("kind"), max_length=20)
    folded = models.CharField(_("as compared"), max_length=300)
    written = models.CharField(_("as written"), max_length=300)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["firm", "kind", "folded"], name="one_term_of_a_kind")]

    def __str__(self) -> str:
        return self.written


class TreatmentTerm(FirmOwned):
    """That a treatment is found by a term. `day` is the treatment's, so that it is read along in its order."""

    id = models.BigAutoField(primary_key=True)
    firm = models.ForeignKey("records.Firm", models.PROTECT, editable=False, related_name="+", db_index=False)
    term = models.ForeignKey(RegisterTerm, models.CASCADE, related_name="found", db_index=False)
    treatment = models.ForeignKey(Treatment, models.CASCADE, related_name="found_by", db_index=False)
    day = models.DateField(_("day"))

    class Meta:
        constraints = [models.UniqueConstraint(fields=["treatment", "term"], name="one_term_of_a_treatment")]
        indexes = [models.Index(fields=["term", "-day", "-treatment"], name="treatments_of_a_term")]

    def __str__(self) -> str:
        return f"{self.treatment}: {self.term}"


class SavedView(FirmOwned):
    """A search of the register that somebody has kept: `search` is what its address asks for, by name.

    What is `shared` all members of the firm see, the rest only who kept it.
    """

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    name = models.CharField(_("name"), max_length=80)
    search = models.JSONField(_("search"), default=dict)
    shared = models.BooleanField(_("for all members"), default=False)
    at = models.DateTimeField(_("made at"), default=clock.now)

    class Meta:
        verbose_name = _("saved view of the register")
        verbose_name_plural = _("saved views of the register")
        ordering = ["name", "pk"]
        constraints = [models.UniqueConstraint(fields=["firm", "by", "name"], name="one_view_of_a_name")]

    def __str__(self) -> str:
        return self.name
