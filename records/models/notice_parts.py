"""What belongs to notices: the bytes that went with them, what the office has to see to, who wants what not."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.accounts import User
from records.models.fields import WordField
from records.models.notices import Notice
from shared import clock
from shared.tenancy import FirmOwned


class KeptBytes(FirmOwned):
    """The bytes of an attachment, once for all notices of the firm that it went with."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    digest = models.CharField(_("digest"), max_length=80)
    content = models.BinaryField(_("bytes"))

    class Meta:
        verbose_name = _("bytes of an attachment")
        verbose_name_plural = _("bytes of attachments")
        constraints = [models.UniqueConstraint(fields=["firm", "digest"], name="bytes_kept_once")]

    def __str__(self) -> str:
        return self.digest[7:19]


class NoticeFile(FirmOwned):
    """One attachment of a notice, by name."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    notice = models.ForeignKey(Notice, models.CASCADE, related_name="files", verbose_name=_("notice"))
    place = models.PositiveSmallIntegerField()
    name = models.CharField(_("name"), max_length=200)
    media_type = models.CharField(_("media type"), max_length=100)
    kept = models.ForeignKey(KeptBytes, models.PROTECT, related_name="files", verbose_name=_("bytes"))

    class Meta:
        verbose_name = _("attachment of a notice")
        verbose_name_plural = _("attachments of notices")
        ordering = ["place"]
        constraints = [models.UniqueConstraint(fields=["notice", "place"], name="one_file_at_a_place")]

    def __str__(self) -> str:
        return self.name


class NoticeTask(FirmOwned):
    """Something that the office has to see to because of a notice; each kind once for each notice.

    What the person said themselves can be taken back; `messages` counts how often they have written, and
    `changed_row` says whether their row in the firm's lists says since what it did not say before.
    """

    class Kind(models.TextChoices):
        REFUSED = "refused", _("It was not taken: tell this person another way")
        TOO_LATE = "too_late", _("It did not go out in time: tell this person another way now")
        NO_SERVER = "no_server", _("No mail server is set: tell this person another way, or have one set")
        UNSURE = "unsure", _("It was broken off: ask whether it came")
        NOT_WANTED = "not_wanted", _("This person does not want it this way: tell them another way")
        SENSITIVE = "sensitive", _("This person says that they are sensitive")
        BY_PHONE = "by_phone", _("This person wants to be told by phone")
        OTHER_WAY = "other_way", _("This person asks to be told another way")
        WRONG_ADDRESS = "wrong_address", _("The notice came to the wrong address")
        WORDS = "words", _("This person has written")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    notice = models.ForeignKey(Notice, models.CASCADE, related_name="tasks", verbose_name=_("notice"))
    kind = models.CharField(_("what to do"), max_length=20, choices=Kind.choices)
    words = models.TextField(_("words"), blank=True)
    at = models.DateTimeField(_("at"), default=clock.now)
    messages = models.PositiveSmallIntegerField(default=0, editable=False)
    changed_row = models.BooleanField(default=False, editable=False)
    taken_back_at = models.DateTimeField(_("taken back at"), null=True)
    done_at = models.DateTimeField(_("done at"), null=True)
    done_by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("done by"))

    class Meta:
        verbose_name = _("task from a notice")
        verbose_name_plural = _("tasks from notices")
        ordering = ["at", "uuid"]
        constraints = [models.UniqueConstraint(fields=["notice", "kind"], name="a_task_once")]
        indexes = [models.Index(fields=["firm", "done_at", "at"], name="notice_tasks_open")]

    def __str__(self) -> str:
        return f"{self.notice}, {self.kind}"


class NotByMeans(FirmOwned):
    """A person has said not to be told by this means: at this e-mail address or number, folded. `by` is who
    wrote it down; empty where they said so on their own page."""

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    means = WordField(_("means"), words="means")
    reached = models.CharField(_("address or number"), max_length=254)
    at = models.DateTimeField(_("at"), default=clock.now)
    by = models.ForeignKey(User, models.PROTECT, null=True, related_name="+", verbose_name=_("by"))

    class Meta:
        verbose_name = _("means not wanted")
        verbose_name_plural = _("means not wanted")
        constraints = [models.UniqueConstraint(fields=["firm", "means", "reached"], name="not_wanted_once")]

    def __str__(self) -> str:
        return self.means
