"""The firm's log: every signed thing in the order in which it came in, bound by a Merkle tree."""

from uuid import uuid4

from django.db import models
from django.utils.translation import gettext_lazy as _

from records.models.keeping import Erasure
from records.models.key_changes import KeyChange
from records.models.signed import SignedFollowUp, SignedRecord
from shared import clock
from shared.orm.append_only import AppendOnly
from shared.tenancy import FirmOwned

_WHAT = ("record", "follow_up", "key_change", "erasure")


def _only(one: str) -> models.Q:
    return models.Q(**{f"{name}__isnull": name != one for name in _WHAT})


class LogEntry(AppendOnly, FirmOwned):
    """One leaf of the firm's log: a signed record, a signed follow-up, a change of the firm's key, or
    an erasure.

    `leaf` is the hash of its canonical bytes as RFC 9162 hashes an entry. Indexes run from 0 without a gap.
    """

    holds = ("record", "follow_up")

    uuid = models.UUIDField(primary_key=True, default=uuid4, editable=False)
    index = models.PositiveBigIntegerField(_("index"))
    leaf = models.BinaryField(_("leaf hash"), max_length=32)
    record = models.OneToOneField(
        SignedRecord, models.PROTECT, null=True, related_name="entry", verbose_name=_("signed record")
    )
    follow_up = models.OneToOneField(
        SignedFollowUp, models.PROTECT, null=True, related_name="entry", verbose_name=_("follow-up")
    )
    key_change = models.OneToOneField(
        KeyChange, models.PROTECT, null=True, related_name="entry", verbose_name=_("change of key")
    )
    erasure = models.OneToOneField(
        Erasure, models.PROTECT, null=True, related_name="entry", verbose_name=_("erasure")
    )
    received_at = models.DateTimeField(_("received at"), default=clock.now)

    class Meta:
        verbose_name = _("log entry")
        verbose_name_plural = _("log entries")
        ordering = ["index"]
        constraints = [
            models.UniqueConstraint(fields=["firm", "index"], name="one_log_entry_at_an_index"),
            models.CheckConstraint(
                condition=_only("record") | _only("follow_up") | _only("key_change") | _only("erasure"),
                name="a_log_entry_is_of_one_thing",
            ),
        ]

    def __str__(self) -> str:
        return str(self.index)

    @property
    def signed(self) -> SignedRecord | SignedFollowUp | KeyChange | Erasure:
        """What was entered."""
        return self.record or self.follow_up or self.key_change or self.erasure


class LogNode(AppendOnly, FirmOwned):
    """The hash of a full subtree above the leaves: over entries `[place << level, (place + 1) << level)`."""

    level = models.PositiveSmallIntegerField(_("level"))
    place = models.PositiveBigIntegerField(_("place"))
    hash = models.BinaryField(_("hash"), max_length=32)

    class Meta:
        verbose_name = _("log node")
        verbose_name_plural = _("log nodes")
        constraints = [
            models.UniqueConstraint(fields=["firm", "level", "place"], name="one_log_node_at_a_place")
        ]

    def __str__(self) -> str:
        return f"{self.level}, {self.place}"


class TreeHead(AppendOnly, FirmOwned):
    """The log's size and root (`tree-head/1`), signed with the firm's key when its last entry came in."""

    size = models.PositiveBigIntegerField(_("size"))
    head = models.JSONField(_("signed head"))
    made_at = models.DateTimeField(_("made at"), default=clock.now)

    class Meta:
        verbose_name = _("tree head")
        verbose_name_plural = _("tree heads")
        ordering = ["-size"]
        constraints = [models.UniqueConstraint(fields=["firm", "size"], name="one_tree_head_of_a_size")]

    def __str__(self) -> str:
        return str(self.size)


class HeadTimeStamp(AppendOnly, FirmOwned):
    """What a time-stamp authority outside says of a head (RFC 3161): that it was there at this time.

    `token` is over the canonical bytes of the signed head; `at` and `authority` are what it says.
    """

    holds = ("head",)

    head = models.OneToOneField(
        TreeHead, models.PROTECT, related_name="time_stamp", verbose_name=_("tree head")
    )
    token = models.BinaryField(_("token"))
    at = models.DateTimeField(_("at"))
    authority = models.CharField(_("authority"), max_length=500)
    received_at = models.DateTimeField(_("received at"), default=clock.now)

    class Meta:
        verbose_name = _("time-stamp of a tree head")
        verbose_name_plural = _("time-stamps of tree heads")
        ordering = ["-head__size"]

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M:%S}, {self.authority}"
