"""Notices: what one person is told of one treatment, by one means, and what became of it."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.fields import WordField
from records.models.places import Site
from records.models.proofs import new_token
from records.models.treatments import Treatment
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.orm.shrinking import Shrinking
from shared.tenancy import FirmOwned

BY_MACHINE = ("email", "text-message")
"""Means by which the worker sends; all others go by hand."""
ON_PAPER = ("letter", "door", "in-person")


class Notice(FirmOwned):
    """One piece for one person, as it was sent. `digest` is over the whole of it; `key` is the same for the
    same words to the same person about the same hours at the same place, which go out once.

    `token` is the last part of the address of the person's own page. `mail_key` stands in the e-mail's
    Message-ID, by which alone a returned mail is known; neither can be guessed. `latest` is the last moment
    at which it is still in time. `gone_out`: something of it may have come to the person, whatever it is by
    now; `came_wrong`: whoever got it says that it was not for them. `stated` is a digest over what it says of
    the visit to the codes of `states`. Once it is erased, who was told and what it said is gone; digest and
    times stay.
    """

    class State(models.TextChoices):
        READY = "ready", _("Ready")
        SENDING = "sending", _("Being sent")
        PRINTED = "printed", _("Printed")
        SENT = "sent", _("Sent")
        VOICEMAIL = "voicemail", _("Left on voicemail")
        DELIVERED = "delivered", _("Delivered")
        REFUSED = "refused", _("Not delivered")
        UNSURE = "unsure", _("Perhaps sent: ask")
        WITHDRAWN = "withdrawn", _("Withdrawn")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    treatment = models.ForeignKey(
        Treatment, models.PROTECT, related_name="notices", verbose_name=_("treatment")
    )
    site = models.ForeignKey(Site, models.PROTECT, related_name="+", verbose_name=_("site"))
    key = models.CharField(max_length=80, editable=False)
    digest = models.CharField(_("digest"), max_length=80)
    token = models.CharField(max_length=32, unique=True, default=new_token, editable=False)
    mail_key = models.CharField(max_length=32, unique=True, default=new_token, editable=False)

    to = WordField(_("to"), words="recipient")
    row = models.UUIDField(null=True, editable=False)
    name = models.CharField(_("name"), max_length=200, blank=True)
    address = models.JSONField(_("address"), default=list)
    email = models.CharField(_("e-mail"), max_length=254, blank=True)
    phone = models.CharField(_("phone"), max_length=40, blank=True)
    means = WordField(_("means"), words="means")
    languages = models.JSONField(_("languages"), default=list)
    subject = models.CharField(_("subject"), max_length=300, blank=True)
    text = models.TextField(_("text"), blank=True)
    planned_at = models.DateTimeField(_("planned for"))
    until = models.DateTimeField(_("until"), null=True)
    alternate_dates = models.JSONField(_("alternate dates"), default=list)
    rules = models.JSONField(_("rules"), default=list)
    latest = models.DateTimeField(_("in time until"), null=True)
    called_off = models.BooleanField(_("says that the visit is called off"), default=False)
    states = models.JSONField(_("codes that it states"), default=list, editable=False)
    stated = models.CharField(_("digest of what it states"), max_length=80, blank=True, editable=False)

    made_by = models.ForeignKey(User, models.PROTECT, related_name="+", verbose_name=_("made by"))
    made_at = models.DateTimeField(_("made at"), default=clock.now)
    state = models.CharField(_("state"), max_length=10, choices=State.choices, default=State.READY)
    next_try = models.DateTimeField(_("next try"), default=clock.now)
    tries = models.PositiveIntegerField(_("tries"), default=0)
    claimed_at = models.DateTimeField(null=True, editable=False)
    gone_out = models.BooleanField(_("may have come"), default=False, editable=False)
    came_wrong = models.BooleanField(_("came to the wrong address"), default=False, editable=False)
    sent_at = models.DateTimeField(_("sent at"), null=True)
    delivered_at = models.DateTimeField(_("delivered at"), null=True)

    class Meta:
        verbose_name = _("notice")
        verbose_name_plural = _("notices")
        ordering = ["made_at", "uuid"]
        constraints = [models.UniqueConstraint(fields=["firm", "key"], name="the_same_notice_once")]
        indexes = [
            models.Index(fields=["firm", "state", "next_try"], name="notice_due"),
            models.Index(fields=["treatment", "made_at", "uuid"], name="notice_of_treatment"),
        ]

    def __str__(self) -> str:
        return self.digest[7:19]

    @property
    def by_machine(self) -> bool:
        return self.means in BY_MACHINE

    @property
    def on_paper(self) -> bool:
        return self.means in ON_PAPER

    @property
    def is_erased(self) -> bool:
        return hasattr(self, "erasure")


class Attempt(AppendOnly, FirmOwned):
    """One thing that happened to a notice: tried, printed, handed over, rung up, returned. `answer` is what
    the other side said, or what the person who did it typed; `photo` is the digest of a photo of it.

    `by` is empty for the machine.
    """

    holds = ("notice",)
    shrinks = Shrinking("records.NoticeErasure", by="notice", emptied=("answer",))

    class Kind(models.TextChoices):
        ACCEPTED = "accepted", _("Taken by the other side")
        LATER = "later", _("Not taken yet; tried again later")
        REFUSED = "refused", _("Not taken")
        TOO_LATE = "too_late", _("Given up: it would come too late")
        SHOWN_ONLY = "shown_only", _("Not sent: no mail server is set")
        BROKEN_OFF = "broken_off", _("Broken off: perhaps sent")
        RETURNED = "returned", _("Came back")
        DELIVERED = "delivered", _("Reported as delivered")
        PRINTED = "printed", _("Printed")
        POSTED = "posted", _("Given to the post")
        HANDED_OVER = "handed_over", _("Handed over")
        SPOKEN = "spoken", _("Told on the phone")
        VOICEMAIL = "voicemail", _("Left on voicemail")
        NO_ANSWER = "no_answer", _("No answer on the phone")
        WRONG_NUMBER = "wrong_number", _("Wrong number")
        NOT_WANTED = "not_wanted", _("This person does not want it by this means")
        AGAIN = "again", _("To be sent again")
        WITHDRAWN = "withdrawn", _("Withdrawn")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    notice = models.ForeignKey(Notice, models.PROTECT, related_name="attempts", verbose_name=_("notice"))
    at = models.DateTimeField(_("at"), default=clock.now)
    kind = models.CharField(_("what happened"), max_length=20, choices=Kind.choices)
    answer = models.TextField(_("answer"), blank=True)
    photo = models.CharField(_("photo"), max_length=64, blank=True)
    by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("by"))

    class Meta:
        verbose_name = _("attempt to deliver a notice")
        verbose_name_plural = _("attempts to deliver notices")
        ordering = ["at", "uuid"]
        indexes = [models.Index(fields=["notice", "at"], name="attempts_of_notice")]

    def __str__(self) -> str:
        return f"{self.notice}, {self.at:%Y-%m-%d %H:%M}, {self.kind}"


class NoticeErasure(AppendOnly, FirmOwned):
    """Who was told, and what the notice said, was erased."""

    holds = ("notice",)

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    notice = models.OneToOneField(Notice, models.PROTECT, related_name="erasure", verbose_name=_("notice"))
    at = models.DateTimeField(_("at"), default=clock.now)

    class Meta:
        verbose_name = _("erasure of a notice")
        verbose_name_plural = _("erasures of notices")

    def __str__(self) -> str:
        return f"{self.notice}, {self.at:%Y-%m-%d}"
