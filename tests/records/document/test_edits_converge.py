"""Several phones write one treatment over a network that loses, repeats and reorders what is sent.

Whatever happens, once all is sent they show the same document, it can be read, and every entry of every
person stands in it, was followed by a later one of the same member, or was put to its person as a question.
What somebody ticked stands under their name and moment until they take it back, whoever else ticked it.
"""

from copy import deepcopy
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.http import QueryDict
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, rule

from records.document.edits import AppliedEdit, Edit, Outcome, apply
from records.document.reader import read
from records.forms.binder import Binder
from records.forms.posted import Posted
from records.forms.sections.protect import PROTECT
from records.forms.ticks_told import tick_edits
from tests.records.document.documents import document

ROOF = "0a6c1f5d-2b11-4f7e-9a53-000000000008"
READING = "0a6c1f5d-2b11-4f7e-9a53-000000000013"
PHONES = 3
MEMBERS = {
    "notes": ["Gate was locked.", "Dog kept in.", None],
    "timing.started_at": ["2026-09-14T09:12:00-07:00", "2026-09-14T12:00:00-07:00", "noonish"],
    "timing.finished_at": ["2026-09-14T09:47:00-07:00", "2026-09-14T11:00:00-07:00"],
    f"weather.readings[{READING}].wind_speed": ["5 mph", "7 km/h", "plenty"],
    f"surfaces[{ROOF}].treated_area": ["250 sq ft", "30 m**2", "3 gal"],
    f"weather.readings[{READING}]": [None],
}
STEPS = ("downspouts-diverted", "ponds-covered", "plants-covered")
HOLDERS = ("R. Osei", "J. Quill", "R. Osei")
"""Whose each phone is: somebody has two."""
MORNING = datetime.fromisoformat("2026-09-14T08:00:00-07:00")
EVENING = "2026-09-14T18:00:00-07:00"


class Boxes:
    """The boxes of a page: which it came with as ticked, and which are ticked now, by when."""

    def __init__(self, document: dict[str, Any], revision: int) -> None:
        self.shown = {step["step"] for step in document.get("protection") or []}
        self.now: dict[str, str] = dict.fromkeys(self.shown, "")
        self.revision = revision

    def posted(self, number: int) -> Posted:
        data = QueryDict(mutable=True)
        data.update({"ticks": "protection", "form": f"page-{number}", "person": HOLDERS[number]})
        data.update({f"tick-at:protection:{step}": at for step, at in self.now.items() if at})
        data.setlist("ticked:protection", sorted(self.shown))
        data.setlist("tick:protection", sorted(self.now))
        return Posted(data, self.revision, data["form"])


class Phone:
    """What one phone knows: the document as last answered, and what it has typed since, in order."""

    def __init__(self, revision: int, document: dict[str, Any]) -> None:
        self.revision = revision
        self.waiting: list[Edit] = []
        self.asked: list[Edit] = []
        self.boxes = Boxes(document, revision)

    def answered(self, sent: list[Edit], outcome: Outcome) -> None:
        """The server's answer has come: what it says of each entry that was sent is known."""
        there = {edit.id for edit in sent}
        known = {edit.id for edit in self.waiting}
        self.asked += [each.edit for each in outcome.conflicts if each.edit.id in known]
        self.waiting = [edit for edit in self.waiting if edit.id not in there]
        self.revision = max(self.revision, outcome.revision)


class ManyPhones(RuleBasedStateMachine):
    """One server, three phones, and messages between them that may come late, twice or never."""

    messages, pages = Bundle("messages"), Bundle("pages")

    @initialize()
    def begin(self) -> None:
        self.document, self.revision, self.unread = document("full"), 1, {}
        self.log: list[AppliedEdit] = []
        self.document["protection"] = []
        self.phones = [Phone(self.revision, self.document) for _ in range(PHONES)]
        self.typed: list[Edit] = []
        self.clock = MORNING
        self.arrived, self.taken_back = set[tuple[str, str, str]](), set[tuple[str, str]]()

    def type_in(self, phone: int, path: str, value: object) -> None:
        edit = Edit(f"e{len(self.typed)}", path, value, self.phones[phone].revision)
        self.typed.append(edit)
        self.phones[phone].waiting.append(edit)

    @rule(phone=st.integers(0, PHONES - 1), path=st.sampled_from(list(MEMBERS)), data=st.data())
    def a_member_is_typed(self, phone: int, path: str, data: Any) -> None:
        self.type_in(phone, path, data.draw(st.sampled_from(MEMBERS[path])))

    @rule(phone=st.integers(0, PHONES - 1), wind=st.integers(0, 30))
    def a_reading_is_added(self, phone: int, wind: int) -> None:
        new = str(UUID(int=len(self.typed) + 1))
        speed = {"value": str(wind), "unit": "mph"}
        self.type_in(phone, f"weather.readings[{new}]", {"id": new, "wind_speed": speed})

    @rule(phone=st.integers(0, PHONES - 1), step=st.sampled_from(STEPS))
    def a_box_is_touched(self, phone: int, step: str) -> None:
        boxes, self.clock = self.phones[phone].boxes, self.clock + timedelta(minutes=1)
        if step in boxes.now:
            del boxes.now[step]
            self.taken_back.add((HOLDERS[phone], step))
        else:
            boxes.now[step] = self.clock.isoformat()

    @rule(phone=st.integers(0, PHONES - 1))
    def the_page_is_opened_anew(self, phone: int) -> None:
        if not any(self.phones[phone].boxes.now.values()):
            self.phones[phone].boxes = Boxes(self.document, self.revision)

    @rule(target=pages, phone=st.integers(0, PHONES - 1))
    def the_boxes_are_sent(self, phone: int) -> tuple[int, Posted]:
        return phone, self.phones[phone].boxes.posted(phone)

    @rule(page=pages, is_answered=st.booleans())
    def the_boxes_arrive(self, page: tuple[int, Posted], is_answered: bool) -> None:
        phone, posted = page
        self.take_boxes(phone, posted)
        if is_answered:
            self.phones[phone].boxes = Boxes(self.document, self.revision)

    def take_boxes(self, phone: int, posted: Posted) -> None:
        binder = Binder(self.document, {}, "en", begun={"at": EVENING, "by": HOLDERS[phone]})
        self.receive(tick_edits(posted, binder.section(PROTECT), self.revision))
        for step in posted.data.getlist("tick:protection"):
            if at := posted.data.get(f"tick-at:protection:{step}"):
                self.arrived.add((HOLDERS[phone], step, at))

    @rule(target=messages, phone=st.integers(0, PHONES - 1))
    def all_that_waits_is_sent(self, phone: int) -> tuple[int, list[Edit]]:
        return phone, list(self.phones[phone].waiting)

    @rule(message=messages, is_answered=st.booleans())
    def a_message_arrives(self, message: tuple[int, list[Edit]], is_answered: bool) -> None:
        phone, edits = message
        outcome = self.receive(edits)
        if is_answered:
            self.phones[phone].answered(edits, outcome)

    def receive(self, edits: list[Edit]) -> Outcome:
        outcome = apply(self.document, self.revision, self.log, edits, self.unread)
        self.document, self.revision = outcome.document, outcome.revision
        self.unread, self.log = outcome.unread, [*self.log, *outcome.applied]
        return outcome

    @invariant()
    def the_document_can_be_read_and_no_entry_is_in_it_twice(self) -> None:
        read(deepcopy(self.document))
        ids = [entry.id for entry in self.log]
        assert len(ids) == len(set(ids))
        readings = [each["id"] for each in (self.document.get("weather") or {}).get("readings") or []]
        assert len(readings) == len(set(readings))
        assert len(self.ticks()) == len(set(self.ticks()))

    def ticks(self) -> list[tuple[str, str, str]]:
        return [(step["by"], step["step"], step["at"]) for step in self.document.get("protection") or []]

    @invariant()
    def what_somebody_ticked_stands_until_they_take_it_back(self) -> None:
        there = self.ticks()
        for tick in self.arrived:
            assert tick in there or tick[:2] in self.taken_back

    def teardown(self) -> None:
        if not hasattr(self, "phones"):
            return
        for phone in self.phones:
            sent = list(phone.waiting)
            phone.answered(sent, self.receive(sent))
            assert not phone.waiting
        for number, phone in enumerate(self.phones):
            self.take_boxes(number, phone.boxes.posted(number))
            self.what_somebody_ticked_stands_until_they_take_it_back()
        self.every_entry_has_its_place()

    def every_entry_has_its_place(self) -> None:
        applied = {entry.id: entry for entry in self.log}
        asked = {edit.id for phone in self.phones for edit in phone.asked}
        for edit in self.typed:
            assert edit.id in applied or edit.id in asked
        for entry in self.log:
            if not self.followed(entry):
                self.stands(entry)

    def followed(self, entry: AppliedEdit) -> bool:
        """Whether a later entry touches the same member, one in it or the item that it is in."""
        later = [other.path for other in self.log if other.revision > entry.revision]
        return any(path.startswith(entry.path) or entry.path.startswith(path) for path in later)

    def stands(self, entry: AppliedEdit) -> None:
        """The entry's value is in the document, or is kept as typed beside it."""
        if entry.path in self.unread:
            assert self.unread[entry.path]["value"] == entry.value
        else:
            again = apply(
                self.document, self.revision, [], [Edit("again", entry.path, entry.value, self.revision)]
            )
            assert again.document == self.document


ManyPhones.TestCase.settings = settings(
    max_examples=40, stateful_step_count=25, deadline=None, derandomize=True
)
test_many_phones_converge_with_nothing_lost = ManyPhones.TestCase
