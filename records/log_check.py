"""Look at everything that a firm's log promises, entry by entry, and name what does not hold."""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import Any

import msgspec

from records.document.faults import Fault
from records.document.section_lines import look_at_lines
from records.log_before import LooksBefore
from records.log_columns import Other, follow_up_otherwise, record_otherwise, state_otherwise
from records.log_found import Broken, Erased, Looked, name_of
from records.log_keys import KeysInForce
from records.log_rows import AT_A_TIME, LogRows, Place, as_bytes
from records.models import Firm, LogEntry, SignedFollowUp, SignedRecord, TreeHead
from records.signals import firm_looked_at
from records.time_stamp_check import look_at_time_stamps
from shared.digests import digest, named
from shared.merkle import GrowingTree, Hash, leaf_hash
from shared.times import read_time

Json = dict[str, Any]
HEAD_FOLLOWS_WITHIN = timedelta(minutes=5)


def look_at_log(firm: Firm, kept: Mapping[str, Any] | None = None) -> Looked:
    """Work the whole log of a firm out anew from what was signed, and set all that is stored against it; and
    a signed head that was `kept` elsewhere, which a log that was rewritten whole does not fit."""
    looked = _Look(firm, kept).all()
    for stamp, why in look_at_time_stamps(firm):
        looked.take(stamp, why)
    looked.broken += [one for _from, broken in firm_looked_at.send(Firm, firm=firm) for one in broken]
    return looked


class _Look:
    def __init__(self, firm: Firm, kept: Mapping[str, Any] | None) -> None:
        self._firm = firm
        self._outside = kept
        self._rows = LogRows(firm)
        self._looked = Looked()
        self._tree = GrowingTree()
        self._keys = KeysInForce(firm)
        self._before = LooksBefore(firm)
        self._last: tuple[str, datetime] | None = None
        self._latest: datetime | None = None
        self._newest: dict[Any, tuple[str, str, list[Other]]] = {}
        self._not_yet_seen: dict[Place, tuple[str, Hash]] = {}

    def all(self) -> Looked:
        heads = self._rows.heads()
        head = next(heads, None)
        for entry in self._rows.entries():
            self._entry(entry)
            self._kept_elsewhere()
            self._faults("", self._before.faults_at(self._tree))
            while head and head.size <= self._tree.size:
                self._head(head)
                head = next(heads, None)
        self._look_at_nodes()
        while head:
            self._say("", "log/head_beyond", size=str(head.size), entries=str(self._tree.size))
            head = next(heads, None)
        self._faults("", self._before.faults_beyond(self._tree.size))
        self._last_head()
        if self._outside and self._outside.get("size") not in range(1, self._tree.size + 1):
            self._say("", "log/kept_head_differs", size=str(self._outside.get("size")))
        for _digest, whose, others in self._newest.values():
            self._row_says(whose, others)
        self._left_out()
        self._looked.entries, self._looked.root = self._tree.size, self._tree.root
        return self._looked

    def _entry(self, entry: LogEntry) -> None:
        signed = entry.signed
        whose = name_of(signed)
        if entry.index != self._tree.size:
            self._say(whose, "log/gap", expected=str(self._tree.size), got=str(entry.index))
        data = as_bytes(signed.record)
        leaf = leaf_hash(data)
        kept = as_bytes(entry.leaf)
        if kept != leaf:
            self._say(whose, "log/leaf_changed", index=str(entry.index))
        self._nodes(whose, self._tree.add(kept))
        self._times(whose, entry)
        if digest(data) != signed.digest:
            self._say(whose, "log/digest_changed")
        try:
            self._stated(whose, entry, msgspec.json.decode(data))
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            self._say(whose, "log/unreadable")

    def _stated(self, whose: str, entry: LogEntry, stated: Json) -> None:
        if entry.key_change:
            self._faults(whose, self._keys.take(entry.key_change, stated))
            self._looked.key_changes.append(entry)
            return
        self._faults(whose, self._keys.faults_of(stated))
        if entry.record:
            self._record(whose, entry.record, stated)
        else:
            self._follow_up(whose, entry.follow_up, stated)

    def _nodes(self, whose: str, made: list[tuple[int, int, Hash]]) -> None:
        for level, place, hashed in made[1:]:
            self._not_yet_seen[level, place] = (whose, hashed)
        if len(self._not_yet_seen) >= AT_A_TIME:
            self._look_at_nodes()

    def _look_at_nodes(self) -> None:
        kept = self._rows.nodes(self._not_yet_seen)
        for (level, place), (whose, hashed) in self._not_yet_seen.items():
            if kept.get((level, place)) != hashed:
                self._say(whose, "log/node_changed", level=str(level), place=str(place))
        self._not_yet_seen = {}

    def _times(self, whose: str, entry: LogEntry) -> None:
        self._last = whose, entry.received_at
        if entry.received_at != entry.signed.received_at:
            self._say(whose, "log/received_other", at=entry.received_at.isoformat())
        if self._latest and entry.received_at < self._latest:
            blanks = {"at": entry.received_at.isoformat(), "before": self._latest.isoformat()}
            self._say(whose, "log/clock_set_back", **blanks)
        self._latest = max(self._latest or entry.received_at, entry.received_at)

    def _record(self, whose: str, row: SignedRecord, stated: Json) -> None:
        faults, gone = look_at_lines(stated["sections"], bytes(row.section_lines))
        self._looked.broken += [Broken(whose, fault) for fault in faults]
        if gone:
            self._gone(whose, row, gone)
        self._row_says(whose, record_otherwise(row, stated))
        before = self._newest.get(row.treatment_id)
        replaced = (stated["record"].get("replaces") or {}).get("digest")
        if replaced != (before and before[0]):
            self._say(whose, "log/replaces_other")
        self._newest[row.treatment_id] = row.digest, whose, list(state_otherwise(row))

    def _row_says(self, whose: str, others: Iterable[Other]) -> None:
        for member, kept, signed in others:
            self._say(whose, "log/row_says_other", member=member, kept=str(kept), signed=str(signed))

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
        self._row_says(whose, follow_up_otherwise(row, stated))

    def _head(self, row: TreeHead) -> None:
        self._looked.heads += 1
        try:
            self._faults("", self._keys.faults_of(row.head))
            holds = self._fits(row)
        except (ValueError, TypeError, KeyError, AttributeError):
            holds = False
        if not holds:
            self._say("", "log/head_differs", size=str(row.size))
        if self._last and row.size == self._tree.size:
            whose, received = self._last
            if abs(row.made_at - received) > HEAD_FOLLOWS_WITHIN:
                self._say(whose, "log/received_other", at=received.isoformat())

    def _fits(self, row: TreeHead) -> bool:
        expected = {"log": str(self._firm.pk), "size": row.size, "root": named(self._tree.root)}
        fits = row.size == self._tree.size and all(row.head[name] == value for name, value in expected.items())
        return fits and read_time(row.head["at"]) == row.made_at

    def _kept_elsewhere(self) -> None:
        if self._outside and self._outside.get("size") == self._tree.size:
            wrong = [*self._keys.faults_of(self._outside)] or self._outside["root"] != named(self._tree.root)
            if wrong:
                self._say("", "log/kept_head_differs", size=str(self._tree.size))

    def _last_head(self) -> None:
        if (covered := self._rows.covered()) < self._tree.size:
            self._say("", "log/not_covered", size=str(covered), entries=str(self._tree.size))

    def _left_out(self) -> None:
        for row in self._rows.left_out():
            self._say(name_of(row), "log/not_in_log")
        self._faults("", self._keys.never_introduced())

    def _faults(self, whose: str, faults: Iterable[Fault]) -> None:
        self._looked.broken += [Broken(whose, fault) for fault in faults]

    def _say(self, whose: str, wording: str, **blanks: str) -> None:
        self._looked.broken.append(Broken(whose, Fault("", wording, blanks)))
