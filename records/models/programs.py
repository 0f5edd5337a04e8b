"""Programs that work for somebody over the API: their tokens, and answers that were given to them."""

from datetime import timedelta
from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _
from knox.models import AbstractAuthToken

from records.models.accounts import User
from shared import clock
from shared.tenancy import FirmOwned


class ProgramToken(FirmOwned, AbstractAuthToken):
    """A device or an integration that works for one person in one firm, within `scopes`, until `expiry`.

    Of the token itself only the digest is kept.
    """

    stays_here = "a token opens this service alone"

    uuid = models.UUIDField(unique=True, default=uuid4, editable=False)
    user = models.ForeignKey(User, models.PROTECT, related_name="program_tokens", verbose_name=_("whose"))
    name = models.CharField(_("name of the program"), max_length=80)
    scopes = models.JSONField(_("what it may do"), default=list)
    used_at = models.DateTimeField(_("last used"), null=True)
    ended_at = models.DateTimeField(_("ended at"), null=True)

    class Meta:
        verbose_name = _("token of a program")
        verbose_name_plural = _("tokens of programs")
        ordering = ["-created"]

    def __str__(self) -> str:
        return self.name

    @property
    def is_over(self) -> bool:
        return self.ended_at is not None or self.expiry is None or self.expiry <= clock.now()


class KeptAnswer(FirmOwned):
    """The answer to a call that was sent with a key, so that the same call sent again is answered alike and
    done once. `asked` is a digest of the call. Without a `status` the call is one that may be done again."""

    KEPT = timedelta(days=1)
    stays_here = "it answers programs that call this service, for a day"

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    by = models.ForeignKey(User, models.CASCADE, related_name="+", verbose_name=_("by"))
    key = models.CharField(_("key"), max_length=200)
    asked = models.CharField(_("digest of the call"), max_length=64)
    status = models.PositiveSmallIntegerField(_("status"), null=True)
    answer = models.JSONField(_("answer"), null=True)
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("answer kept for a program")
        verbose_name_plural = _("answers kept for programs")
        constraints = [models.UniqueConstraint(fields=["firm", "by", "key"], name="one_answer_of_a_key")]
        indexes = [models.Index(fields=["firm", "at"], name="kept_answers_by_age")]

    def __str__(self) -> str:
        return self.key
