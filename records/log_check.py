"""Look at everything that a firm's log promises, entry by entry, and name what does not hold."""

import json
from collections.abc import Iterator, Mapping
from datetime import datetime
from itertools import groupby
from operator import itemgetter
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from django.db.models import Q

from records.document.faults import Fault
from records.document.section_lines import look_at_lines
from records.document.signatures import judged_signatures
from records.document.tree_head import fault_of_head
from records.log_found import Broken, Erased, Looked
from records.models import Firm, LogEntry, LogNode, SignedFollowUp, SignedRecord, SigningKey, TreeHead
from shared.digests import digest, named
from shared.merkle import GrowingTree, Hash, leaf_hash
from shared.times import read_time

Json = dict[str, Any]
AT_A_TIME = 500
_level_and_place = itemgetter(1, 2)


def look_at_log(firm: Firm, kept: Mapping[str, Any] | None = None) -> Looked:
    """Work the whole log of a firm out anew from what was signed, and set all that is stored against it; and
    a signed head that was `kept` elsewhere, which a log that was rewritten whole does not fit."""
    return _Look(firm, kept).all()


class _Look:
    def __init__(self, firm: Firm, kept: Mapping[str, Any] | None) -> None:
        self._firm = firm
        self._outside = kept
        self._looked = Looked()
        self._tree = GrowingTree()
        self._keys = {
            key.digest: Ed25519PublicKey.from_public_bytes(bytes(key.public))
            for key in SigningKey.objects.for_firm(firm)
        }
        self._latest: datetime | None = None
        self._newest: dict[Any, SignedRecord] = {}
        self._not_yet_seen: list[tuple[str, int, int, Hash]] = []

    def all(self) -> Looked:
        heads = TreeHead.objects.for_firm(self._firm).order_by("size").iterator(AT_A_TIME)
        head = next(heads, None)
        for entry in self._entries():
            self._entry(entry)
            self._kept_elsewhere()
            while head and head.size <= self._tree.size:
                self._head(head)
                head = next(heads, None)
        self._look_at_nodes()
        while head:
            self._say("", "log/head_beyond", size=str(head.size), entries=str(self._tree.size))
            head = next(heads, None)
        self._last_head()
        if self._outside and self._outside.get("size") not in range(1, self._tree.size + 1):
            self._say("", "log/kept_head_differs", size=str(self._outside.get("size")))
        self._left_out()
        self._looked.entries, self._looked.root = self._tree.size, self._tree.root
        return self._looked

    def _entries(self) -> Iterator[LogEntry]:
        rows = LogEntry.objects.for_firm(self._firm).order_by("index")
        return rows.select_related("record__treatment", "follow_up__follows__treatment").iterator(AT_A_TIME)

    def _entry(self, entry: LogEntry) -> None:
        signed = entry.record or entry.follow_up
        whose = _name(signed)
        if entry.index != self._tree.size:
            self._say(whose, "log/gap", expected=str(self._tree.size), got=str(entry.index))
        data = bytes(signed.record)
        leaf = leaf_hash(data)
        if bytes(entry.leaf) != leaf:
            self._say(whose, "log/leaf_changed", index=str(entry.index))
        self._nodes(whose, self._tree.add(bytes(entry.leaf)))
        self._times(whose, entry)
        if digest(data) != signed.digest:
            self._say(whose, "log/digest_changed")
        try:
            self._stated(whose, entry, json.loads(data))
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            self._say(whose, "log/unreadable")

    def _stated(self, whose: str, entry: LogEntry, stated: Json) -> None:
        for _path, fault in judged_signatures(stated, self._keys):
            if fault:
                self._looked.broken.append(Broken(whose, fault))
        if entry.record:
            self._record(whose, entry.record, stated)
        else:
            self._follow_up(whose, entry.follow_up, stated)

    def _nodes(self, whose: str, made: list[tuple[int, int, Hash]]) -> None:
        self._not_yet_seen += [(whose, *node) for node in made if node[0]]
        if len(self._not_yet_seen) >= AT_A_TIME:
            self._look_at_nodes()

    def _look_at_nodes(self) -> None:
        """The places of one level come one after another, so a range of each is read."""
        ranges = Q()
        for level, nodes in groupby(sorted(self._not_yet_seen, key=_level_and_place), key=itemgetter(1)):
            places = [place for _whose, _level, place, _hashed in nodes]
            ranges |= Q(level=level, place__range=(places[0], places[-1]))
        rows = LogNode.objects.for_firm(self._firm).filter(ranges).values_list("level", "place", "hash")
        kept = {(level, place): bytes(hashed) for level, place, hashed in rows} if ranges else {}
        for whose, level, place, hashed in self._not_yet_seen:
            if kept.get((level, place)) != hashed:
                self._say(whose, "log/node_changed", level=str(level), place=str(place))
        self._not_yet_seen = []

    def _times(self, whose: str, entry: LogEntry) -> None:
        if self._latest and entry.received_at < self._latest:
            blanks = {"at": entry.received_at.isoformat(), "before": self._latest.isoformat()}
            self._say(whose, "log/clock_set_back", **blanks)
        self._latest = max(self._latest or entry.received_at, entry.received_at)

    def _record(self, whose: str, row: SignedRecord, stated: Json) -> None:
        faults, gone = look_at_lines(stated["sections"], bytes(row.section_lines))
        self._looked.broken += [Broken(whose, fault) for fault in faults]
        if gone:
            self._gone(whose, row, gone)
        named_in = stated["record"]
        kept = {"id": str(row.treatment_id), "number": row.treatment.number, "version": row.version}
        for name, value in kept.items():
            if named_in.get(name) != value:
                self._say(
                    whose, "log/row_says_other", member=name, kept=str(value), signed=str(named_in.get(name))
                )
        before = self._newest.get(row.treatment_id)
        replaced = (named_in.get("replaces") or {}).get("digest")
        if replaced != (before and before.digest):
            self._say(whose, "log/replaces_other")
        self._newest[row.treatment_id] = row

    def _gone(self, whose: str, row: SignedRecord, gone: list[str]) -> None:
        """A section that is not there was erased in good order, or taken out."""
        erasure = getattr(row.treatment, "erasure", None)
        for name in gone:
            if erasure is None or name not in erasure.sections:
                self._say(whose, "log/section_gone", section=name)
        if erasure:
            self._looked.erased.append(Erased(whose, erasure, gone))

    def _follow_up(self, whose: str, row: SignedFollowUp, stated: Json) -> None:
        if stated.get("follows", {}).get("digest") != row.follows.digest:
            self._say(whose, "log/follows_other")

    def _head(self, row: TreeHead) -> None:
        self._looked.heads += 1
        try:
            if fault := fault_of_head(row.head, self._keys):
                self._looked.broken.append(Broken("", fault))
            holds = self._fits(row)
        except (ValueError, TypeError, KeyError, AttributeError):
            holds = False
        if not holds:
            self._say("", "log/head_differs", size=str(row.size))

    def _fits(self, row: TreeHead) -> bool:
        expected = {"log": str(self._firm.pk), "size": row.size, "root": named(self._tree.root)}
        fits = row.size == self._tree.size and all(row.head[name] == value for name, value in expected.items())
        return fits and read_time(row.head["at"]) == row.made_at

    def _kept_elsewhere(self) -> None:
        if self._outside and self._outside.get("size") == self._tree.size:
            wrong = fault_of_head(self._outside, self._keys) or self._outside["root"] != named(self._tree.root)
            if wrong:
                self._say("", "log/kept_head_differs", size=str(self._tree.size))

    def _last_head(self) -> None:
        covered = TreeHead.objects.for_firm(self._firm).order_by("-size").values_list("size", flat=True).first()
        if (covered or 0) < self._tree.size:
            self._say("", "log/not_covered", size=str(covered or 0), entries=str(self._tree.size))

    def _left_out(self) -> None:
        for model in (SignedRecord, SignedFollowUp):
            for row in model.objects.for_firm(self._firm).filter(entry=None).iterator(AT_A_TIME):
                self._say(_name(row), "log/not_in_log")

    def _say(self, whose: str, wording: str, **blanks: str) -> None:
        self._looked.broken.append(Broken(whose, Fault("", wording, blanks)))


def _name(signed: SignedRecord | SignedFollowUp) -> str:
    """`2026-0147 v1`, or what follows it."""
    if isinstance(signed, SignedRecord):
        return f"{signed.treatment.number} v{signed.version}"
    return f"{_name(signed.follows)}, {signed.kind}"
