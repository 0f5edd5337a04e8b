"""Look at everything that a firm's log promises, entry by entry, and name what does not hold."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

import msgspec

from records.document.faults import Fault
from records.document.section_lines import look_at_lines
from records.log_before import LooksBefore
from records.log_columns import Other, follow_up_otherwise, record_otherwise, state_otherwise
from records.log_erasures import erasure_faults, erasure_of, erasure_otherwise, gone_faults
from records.log_found import Broken, Erased, Looked, name_of
from records.log_heads import Found, HeadsInOrder
from records.log_keys import KeysInForce
from records.log_leftovers import left_over
from records.log_rows import AT_A_TIME, Entry, LogRows, LostEntry, OtherEntry, Place, RecordEntry, as_bytes
from records.models import Erasure, Firm, KeyChange, SignedFollowUp
from records.signals import firm_looked_at
from records.time_stamp_check import days_without_time_stamp, look_at_time_stamps
from shared.digests import digest
from shared.merkle import GrowingTree, Hash, leaf_hash

Json = dict[str, Any]
Newest = tuple[str, str, Iterable[Other]]
"""A treatment's newest record so far: its digest, its name and what of its state that does not give."""


def look_at_log(firm: Firm, kept: Mapping[str, Any] | None = None) -> Looked:
    """Work the whole log of a firm out anew from what was signed, and set all that is stored against it; and
    a signed head that was `kept` elsewhere, which a log that was rewritten whole does not fit."""
    looked = _Look(firm, kept).all()
    for stamp, why in look_at_time_stamps(firm):
        looked.take(stamp, why)
    looked.days_without_time_stamp = days_without_time_stamp(firm)
    looked.broken += [one for _from, broken in firm_looked_at.send(Firm, firm=firm) for one in broken]
    return looked


class _Look:
    def __init__(self, firm: Firm, kept: Mapping[str, Any] | None) -> None:
        self._firm = firm
        self._rows = LogRows(firm)
        self._looked = Looked()
        self._tree = GrowingTree()
        self._keys = KeysInForce(firm)
        self._heads = HeadsInOrder(firm, self._rows.heads(), self._keys, kept)
        self._before = LooksBefore(firm)
        self._latest: datetime | None = None
        self._newest: dict[UUID, Newest] = {}
        self._not_yet_seen: dict[Place, tuple[Entry, Hash]] = {}

    def all(self) -> Looked:
        for entry in self._rows.entries():
            self._entry(entry)
            self._found(self._heads.faults_at(entry, self._tree))
            self._faults(None, self._before.faults_at(self._tree))
        self._look_at_nodes()
        self._found(self._heads.faults_beyond(self._tree.size))
        self._faults(None, self._before.faults_beyond(self._tree.size))
        if self._heads.before and self._heads.first:
            self._faults(None, self._before.faults_before(self._heads.first))
        for _digest, whose, others in self._newest.values():
            self._row_says(whose, others)
        self._left_out()
        self._looked.entries, self._looked.root = self._tree.size, self._tree.root
        self._looked.heads, self._looked.before_heads = self._heads.seen, self._heads.before
        return self._looked

    def _entry(self, entry: Entry) -> None:
        if entry.index != self._tree.size:
            self._say(entry, "log/gap", expected=str(self._tree.size), got=str(entry.index))
        kept = as_bytes(entry.leaf)
        if isinstance(entry, LostEntry):
            self._say(entry, "log/row_gone", index=str(entry.index))
            self._nodes(entry, self._tree.add(kept))
            return
        data = as_bytes(entry.data)
        if kept != leaf_hash(data):
            self._say(entry, "log/leaf_changed", index=str(entry.index))
        self._nodes(entry, self._tree.add(kept))
        self._times(entry)
        if digest(data) != entry.digest:
            self._say(entry, "log/digest_changed")
        try:
            self._stated(entry, msgspec.json.decode(data))
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            self._say(entry, "log/unreadable")

    def _stated(self, entry: RecordEntry | OtherEntry, stated: Json) -> None:
        if isinstance(entry, RecordEntry):
            self._faults(entry, self._keys.faults_of(stated))
            self._record(entry, stated)
        elif isinstance(entry.signed, KeyChange):
            self._faults(entry, self._keys.take(entry.signed, stated))
            self._looked.key_changes.append(entry.signed)
        elif isinstance(entry.signed, Erasure):
            self._faults(entry, [*self._keys.faults_of(stated), *erasure_faults(entry.signed, stated)])
            self._row_says(entry.name, erasure_otherwise(entry.signed, stated))
        else:
            self._faults(entry, self._keys.faults_of(stated))
            self._follow_up(entry, entry.signed, stated)

    def _nodes(self, entry: Entry, made: list[tuple[int, int, Hash]]) -> None:
        for level, place, hashed in made[1:]:
            self._not_yet_seen[level, place] = (entry, hashed)
        if len(self._not_yet_seen) >= AT_A_TIME:
            self._look_at_nodes()

    def _look_at_nodes(self) -> None:
        kept = self._rows.nodes(self._not_yet_seen)
        for (level, place), (entry, hashed) in self._not_yet_seen.items():
            if kept.get((level, place)) != hashed:
                self._say(entry, "log/node_changed", level=str(level), place=str(place))
        self._not_yet_seen = {}

    def _times(self, entry: RecordEntry | OtherEntry) -> None:
        at, latest = entry.received_at, self._latest
        if at != entry.signed_received_at:
            self._say(entry, "log/received_other", at=at.isoformat())
        if latest is None or at >= latest:
            self._latest = at
        else:
            self._say(entry, "log/clock_set_back", at=at.isoformat(), before=latest.isoformat())

    def _record(self, entry: RecordEntry, stated: Json) -> None:
        faults, gone = look_at_lines(stated["sections"], as_bytes(entry.lines))
        self._faults(entry, faults)
        if gone:
            self._gone(entry, gone)
        if not entry.at_home:
            self._say(entry, "log/other_firm")
        replaces = stated["record"].get("replaces")
        replaced = replaces and replaces["digest"]
        if others := record_otherwise(entry, stated, replaced):
            self._row_says(entry.name, others)
        before = self._newest.get(entry.treatment)
        if replaced != (before and before[0]):
            self._say(entry, "log/replaces_other")
        others = state_otherwise(entry)
        self._newest[entry.treatment] = entry.digest, others and entry.name, others

    def _row_says(self, whose: str, others: Iterable[Other]) -> None:
        for member, kept, signed in others:
            blanks = {"member": member, "kept": str(kept), "signed": str(signed)}
            self._looked.broken.append(Broken(whose, Fault("", "log/row_says_other", blanks)))

    def _gone(self, entry: RecordEntry, gone: list[str]) -> None:
        erasure = erasure_of(self._firm, entry.treatment)
        self._faults(entry, gone_faults(erasure, gone))
        if erasure:
            self._looked.erased.append(Erased(entry.name, erasure, gone))

    def _follow_up(self, entry: OtherEntry, row: SignedFollowUp, stated: Json) -> None:
        if stated.get("follows", {}).get("digest") != row.follows.digest:
            self._say(entry, "log/follows_other")
        if {row.follows.firm_id, row.follows.treatment.firm_id} != {self._firm.pk}:
            self._say(entry, "log/other_firm")
        self._row_says(entry.name, follow_up_otherwise(row, stated))

    def _left_out(self) -> None:
        for row in self._rows.left_out():
            why = "log/erasure_unsigned" if isinstance(row, Erasure) else "log/not_in_log"
            self._looked.broken.append(Broken(name_of(row), Fault("", why)))
        self._faults(None, self._keys.never_introduced())
        self._looked.broken += left_over(self._firm, self._tree.size, self._latest)

    def _found(self, found: Iterable[Found]) -> None:
        for entry, fault in found:
            self._faults(entry, [fault])

    def _faults(self, entry: Entry | None, faults: Iterable[Fault]) -> None:
        for fault in faults:
            self._looked.broken.append(Broken(entry.name if entry else "", fault))

    def _say(self, entry: Entry | None, wording: str, **blanks: str) -> None:
        self._faults(entry, [Fault("", wording, blanks)])
