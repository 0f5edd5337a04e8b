"""Spreadsheets of past years that were brought in, and what became of each of their rows."""

from datetime import timedelta
from typing import Any, ClassVar
from uuid import uuid4

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from shared import clock
from shared.tenancy import FirmOwned


class ArrivalFile(FirmOwned):
    """A spreadsheet as it came. Its bytes stay, so that anyone can see later what a row was made from.

    `asked` is what was said of it: kind, sheet, header row, columns, and what the file can't tell by itself.
    `run` names the worker's turn that may write; an older one that is still at it stops.
    """

    class State(models.TextChoices):
        SENT = "sent", _("sent, not looked at")
        LOOKING = "looking", _("being looked at")
        ASKS = "asks", _("asks something")
        LOOKED = "looked", _("looked at, not brought in")
        TAKING = "taking", _("being brought in")
        TAKEN = "taken", _("brought in")
        UNDOING = "undoing", _("being taken back")
        UNDONE = "undone", _("taken back")

    SILENCE: ClassVar[timedelta] = timedelta(minutes=2)
    """After so long without a word of it a turn is held for broken off."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    name = models.CharField(_("file"), max_length=200)
    sha256 = models.CharField(_("digest"), max_length=64)
    size = models.PositiveIntegerField(_("bytes"))
    content = models.BinaryField(_("content"))
    by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("by"))
    at = models.DateTimeField(_("at"), default=clock.now)
    preview: Any = models.JSONField(_("its sheets and first rows"), default=dict)
    asked: Any = models.JSONField(_("what was said of it"), default=dict)
    state = models.CharField(_("state"), max_length=10, choices=State.choices, default=State.SENT)
    run = models.UUIDField(default=uuid4, editable=False)
    noted_at = models.DateTimeField(default=clock.now)
    total = models.PositiveIntegerField(_("rows"), default=0)
    done = models.PositiveIntegerField(_("rows looked at"), default=0)
    good = models.PositiveIntegerField(_("rows without a fault"), default=0)
    faulty = models.PositiveIntegerField(_("rows with a fault"), default=0)
    known = models.PositiveIntegerField(_("rows that are there already"), default=0)
    makes: Any = models.JSONField(_("what it makes"), default=dict)
    doubts: Any = models.JSONField(_("what it asks"), default=list)
    faults: Any = models.JSONField(_("what is wrong with the whole of it"), default=list)
    taken_by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("by"))
    taken_at = models.DateTimeField(_("brought in at"), null=True)
    undone_by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("by"))
    undone_at = models.DateTimeField(_("taken back at"), null=True)
    stayed: Any = models.JSONField(_("what stayed"), default=list)

    class Meta:
        verbose_name = _("spreadsheet of past years")
        verbose_name_plural = _("spreadsheets of past years")
        ordering = ["-at"]
        indexes = [models.Index(fields=["firm", "-at"], name="arrivals_newest")]

    def __str__(self) -> str:
        return self.name

    @property
    def is_under_way(self) -> bool:
        return self.state in (self.State.LOOKING, self.State.TAKING, self.State.UNDOING)

    @property
    def is_broken_off(self) -> bool:
        """Whether nothing has been heard of it: its worker died, or none is running."""
        return self.is_under_way and clock.now() - self.noted_at > self.SILENCE

    @property
    def is_open(self) -> bool:
        """Whether what was said of it may still be changed."""
        return self.state in (self.State.SENT, self.State.ASKS, self.State.LOOKED) or (
            self.state == self.State.LOOKING and self.is_broken_off
        )


class ArrivedRow(FirmOwned):
    """One row of such a file: its faults, or the rows that it makes by model and id; what will be in them waits
    here until they are made."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    file = models.ForeignKey(ArrivalFile, models.CASCADE, related_name="rows")
    place = models.PositiveIntegerField()
    row = models.PositiveIntegerField(_("row"))
    faults: Any = models.JSONField(_("faults"), default=list)
    waits: Any = models.JSONField(_("what it would make"), default=list, encoder=DjangoJSONEncoder)
    makes: Any = models.JSONField(_("what it makes"), default=list)
    treatment = models.UUIDField(null=True, db_index=True)

    class Meta:
        verbose_name = _("row of a spreadsheet")
        verbose_name_plural = _("rows of spreadsheets")
        ordering = ["place"]
        constraints = [models.UniqueConstraint(fields=["file", "place"], name="one_row_of_a_place")]

    def __str__(self) -> str:
        return str(self.row)
