"""What a firm demands of itself, and its own answers to open questions."""

from uuid import uuid4

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from compliance.firm_pack import Policy, firm_pack
from compliance.pack_reader import registered_packs
from compliance.rulebook.errors import RuleError
from compliance.rulebook.layers import refuse_loosening
from records.document.faults import DocumentFaults
from records.document.reader import read_as
from records.document.types import Label
from shared.history import firm_history
from shared.tenancy import FirmOwned


class FirmPolicy(FirmOwned):
    """Limits that a firm sets for itself, in force in `[in_force_from, until)`; shown apart from law."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    title = models.CharField(_("title"), max_length=200)
    limits = models.JSONField(
        _("limits"),
        default=list,
        help_text=_('As on a label: [{"of": "wind_speed", "max": {"value": "8", "unit": "mph"}}].'),
    )
    required = models.BooleanField(
        _("required"),
        default=False,
        help_text=_("Tick if an overstepped limit must be answered when signing."),
    )
    in_force_from = models.DateField(_("in force from"))
    until = models.DateField(
        _("until"), null=True, blank=True, help_text=_("The first day on which it no longer holds.")
    )
    history = firm_history()

    class Meta:
        verbose_name = _("firm policy")
        verbose_name_plural = _("firm policies")
        ordering = ["in_force_from", "title"]

    def __str__(self) -> str:
        return self.title

    def as_policy(self) -> Policy:
        """The policy as the rules read it. Raises DocumentFaults for limits that cannot be read."""
        limits = read_as(Label, {"limits": self.limits}, lambda *_: [])
        return Policy(self.title, limits, self.required)

    def clean(self) -> None:
        """Refuse limits that cannot be read, and those that allow what a law does not."""
        super().clean()
        language = get_language() or "en"
        try:
            refuse_loosening(firm_pack([self.as_policy()]), registered_packs())
        except DocumentFaults as faults:
            raise ValidationError({"limits": [fault.say(language) for fault in faults.faults]}) from faults
        except RuleError as error:
            raise ValidationError({"limits": error.say(language)}) from error


class Determination(FirmOwned):
    """The firm's own dated answer to an open question of a pack, and on whose advice. Both days count."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    question = models.CharField(
        _("question"), max_length=200, help_text=_("Its id, as the check sheet names it.")
    )
    answer = models.CharField(_("answer"), max_length=200)
    by = models.CharField(_("decided by"), max_length=200)
    advice = models.CharField(_("on whose advice"), max_length=2000, blank=True)
    valid_from = models.DateField(_("valid from"))
    valid_to = models.DateField(_("valid to"), null=True, blank=True)
    history = firm_history()

    class Meta:
        verbose_name = _("answer to an open question")
        verbose_name_plural = _("answers to open questions")
        ordering = ["question", "-valid_from"]

    def __str__(self) -> str:
        return f"{self.question}: {self.answer}"
