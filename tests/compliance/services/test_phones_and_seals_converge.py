"""Several phones write and sign one treatment without a signal; what is sent is lost, repeated and reordered.

People sign out and in, keys are revoked, a colleague signs at a desk. Whatever happens, every entry is at last
in the log or stands on a phone's page, and what was sealed is the record to the letter, or is kept with the
members that differ.
"""

import json
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

import pytest
import time_machine
from django.db import transaction
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from compliance.services.sealed import Sent, receive
from compliance.services.sealed_judging import Sealed
from compliance.services.sealed_later import fit_later
from compliance.services.sealed_wordings import WORDINGS
from compliance.services.signing import prepare, sign_confirmed
from records import selectors
from records.document.canonical import as_json
from records.document.differing import differing
from records.document.edits import Edit
from records.document.member_places import member_said
from records.document.reader import read
from records.models import Membership, Seal, SignedRecord, Treatment, TreatmentEdit
from records.services.device_keys import revoke
from records.services.drafts import NotADraftError, edit_draft
from records.services.planning import Plan, plan_treatment
from records.services.to_sign import Signer
from shared.canonical import canonical_bytes
from shared.digests import digest
from tests.compliance.services.phone_model import Shelf
from tests.device import Device

EVENING = datetime.fromisoformat("2026-09-14T17:30:00-07:00")
PHONES, PEOPLE = 3, 2
DIFFERS = WORDINGS["differs"].en.removeprefix("{member}")
WRONG_CLOCKS = (timedelta(), timedelta(minutes=40), timedelta())
phones, people = st.integers(0, PHONES - 1), st.integers(0, PEOPLE - 1)


class PhonesAndSeals(RuleBasedStateMachine):
    messages, seals = Bundle("messages"), Bundle("seals")

    def __init__(self, plan: Plan, members: list[Membership]) -> None:
        super().__init__()
        self.plan, self.people = plan, [member.user for member in members]
        self.clock = time_machine.travel(EVENING - timedelta(days=1), tick=False)
        self.now = self.clock.start()
        self.apart = transaction.atomic()
        self.apart.__enter__()

    @initialize()
    def begin(self) -> None:
        treatment = plan_treatment(self.plan.site.firm, self.people[0], self.plan)
        self.pk, self.firm, self.typed, self.sealed = treatment.pk, treatment.firm, [], {}
        mix, devices = treatment.document["mixes"][0]["id"], {}
        self.members = {
            "notes": ["Gate was locked.", "Dog kept in.", None],
            "timing.started_at": ["2026-09-14T09:12:00-07:00", "2026-09-14T09:15:00-07:00"],
            "timing.finished_at": ["2026-09-14T09:47:00-07:00", "2026-09-14T10:02:00-07:00"],
            f"mixes[{mix}].applied": ["14 gal", "53 L", "12 gal", "13 gal", "plenty"],
        }
        for place in ((phone, person) for phone in range(PHONES) for person in range(PEOPLE)):
            devices[place] = Device()
            devices[place].register(self.people[place[1]], self.firm)
        self.now.move_to(EVENING)
        self.shelves = {
            place: Shelf(self.people[place[1]], device, WRONG_CLOCKS[place[0]], {})
            for place, device in devices.items()
        }
        for shelf in self.shelves.values():
            shelf.keep(treatment)
        self.holders = [0, 0, 1]

    @property
    def treatment(self) -> Treatment:
        return Treatment.objects.for_firm(self.firm).get(pk=self.pk)

    def in_hand(self, phone: int) -> Shelf:
        """The part of whoever is signed in on the phone."""
        self.now.shift(timedelta(minutes=1))
        return self.shelves[phone, self.holders[phone]]

    def is_signed_in(self, shelf: Shelf) -> bool:
        return any(self.shelves[phone, holder] is shelf for phone, holder in enumerate(self.holders))

    def type_in(self, shelf: Shelf, path: str, value: object) -> None:
        if shelf.sealed is None:
            self.typed.append(Edit(str(len(self.typed)), path, value, shelf.revision))
            shelf.waiting.append(self.typed[-1])

    @rule(phone=phones, data=st.data())
    def a_member_is_typed(self, phone: int, data: Any) -> None:
        path = data.draw(st.sampled_from(sorted(self.members)))
        self.type_in(self.in_hand(phone), path, data.draw(st.sampled_from(self.members[path])))

    @rule(phone=phones, wind=st.integers(0, 30))
    def a_reading_is_added(self, phone: int, wind: int) -> None:
        new = str(UUID(int=len(self.typed) + 1))
        reading = {"id": new, "wind_speed": {"value": str(wind), "unit": "mph"}}
        self.type_in(self.in_hand(phone), f"weather.readings[{new}]", reading)

    @rule(phone=phones)
    def the_phone_keeps_the_treatment_anew(self, phone: int) -> None:
        if self.treatment.state == Treatment.State.DRAFT:
            self.in_hand(phone).keep(self.treatment)

    @rule(phone=phones)
    def a_question_is_answered_with_mine(self, phone: int) -> None:
        shelf = self.in_hand(phone)
        if shelf.asked and shelf.sealed is None:
            mine = shelf.asked.pop(0)
            shelf.answered_with.append(mine)
            self.type_in(shelf, mine.path, mine.value)

    @rule(target=messages, phone=phones)
    def all_that_waits_is_sent(self, phone: int) -> tuple[Shelf, list[Edit]]:
        shelf = self.in_hand(phone)
        return shelf, list(shelf.waiting)

    @rule(message=messages, is_answered=st.booleans())
    def a_message_arrives(self, message: tuple[Shelf, list[Edit]], is_answered: bool) -> None:
        shelf, edits = message
        if self.is_signed_in(shelf):
            self.take_in(shelf, edits, is_answered)

    def take_in(self, shelf: Shelf, edits: list[Edit], is_answered: bool = True) -> None:
        treatment = self.treatment
        try:
            outcome = edit_draft(treatment, edits, shelf.person)
        except NotADraftError:
            if is_answered:
                shelf.signed_meanwhile(edits)
            return
        fit_later(treatment, shelf.person)
        if is_answered:
            shelf.answered(edits, outcome)

    @precondition(lambda self: len(self.typed) > 2)
    @rule(target=seals, phone=phones)
    def a_record_is_sealed(self, phone: int) -> tuple[Shelf, Sent | None]:
        return self.sealed_on(self.in_hand(phone))

    def sealed_on(self, shelf: Shelf) -> tuple[Shelf, Sent | None]:
        sent = shelf.sealed or shelf.seal(self.treatment, datetime.now(EVENING.tzinfo))
        if sent:
            self.sealed[sent.key, digest(sent.document.encode())] = sent
        return shelf, sent

    @rule(seal=seals, is_answered=st.booleans())
    def a_seal_arrives(self, seal: tuple[Shelf, Sent | None], is_answered: bool) -> None:
        shelf, sent = seal
        if sent and self.is_signed_in(shelf):
            self.take_seal(shelf, sent, is_answered)

    @rule(phone=phones, wind=st.integers(0, 30))
    def a_seal_overtakes_its_entries(self, phone: int, wind: int) -> None:
        self.a_reading_is_added(phone, wind)
        shelf, sent = self.sealed_on(self.in_hand(phone))
        if sent:
            self.take_seal(shelf, sent)

    def take_seal(self, shelf: Shelf, sent: Sent, is_answered: bool = True) -> None:
        self.now.shift(timedelta(minutes=1))
        sent_at = (datetime.now(EVENING.tzinfo) + shelf.ahead).isoformat(timespec="seconds")
        own = Seal.objects.for_firm(self.firm).filter(key=sent.key, digest=digest(sent.document.encode()))
        is_first = not own.exists()
        seal = receive(self.treatment, shelf.person, replace(sent, sent_at=sent_at))
        if is_first and not seal.record:
            self.names_what_differs(seal)
        if is_answered and shelf.sealed == sent:
            shelf.sealed = None

    def names_what_differs(self, seal: Seal) -> None:
        assert seal.why_not
        named = [each["en"] for each in seal.why_not if DIFFERS in each["en"]]
        if named:
            document = json.loads(bytes(seal.document))
            signer = Sealed.of(seal, read(document)).signer
            now = as_json(prepare(self.treatment, signer).document)
            paths = differing(document, now)
            assert named == [f"{member_said(path, 'en', [document, now])}{DIFFERS}" for path in paths]

    @rule(phone=phones)
    def the_phone_comes_home(self, phone: int) -> None:
        shelf = self.in_hand(phone)
        self.take_in(shelf, list(shelf.waiting))
        if shelf.sealed:
            self.take_seal(shelf, shelf.sealed)

    @precondition(lambda self: len(self.typed) > 3)
    @rule(phone=phones, person=people)
    def somebody_signs_in(self, phone: int, person: int) -> None:
        self.holders[phone] = person

    @precondition(lambda self: len(self.typed) > 5)
    @rule(phone=phones)
    def a_key_is_revoked(self, phone: int) -> None:
        shelf = self.in_hand(phone)
        assert shelf.device.key
        revoke(shelf.device.key, shelf.person)

    @precondition(lambda self: len(self.typed) > 15)
    @rule()
    def a_colleague_signs_at_a_desk(self) -> None:
        treatment, by = self.treatment, self.people[1]
        if treatment.is_open and not treatment.unread:
            findings = prepare(treatment, Signer(by)).open_findings
            sign_confirmed(treatment, by, [{**each, "reason": "As it was."} for each in findings])

    @invariant()
    def at_most_one_record_is_signed_and_no_entry_is_twice(self) -> None:
        if hasattr(self, "pk"):
            assert SignedRecord.objects.for_firm(self.firm).count() <= 1
            assert len(self.log()) == len(set(self.log()))

    def log(self) -> list[str]:
        edits = TreatmentEdit.objects.for_firm(self.firm).filter(treatment=self.pk)
        return list(edits.values_list("edit_id", flat=True))

    def teardown(self) -> None:
        try:
            if hasattr(self, "holders"):
                self.all_is_sent()
                self.every_entry_has_its_place()
                self.every_seal_is_the_record_or_kept()
        finally:
            transaction.set_rollback(True)
            self.apart.__exit__(None, None, None)
            self.clock.stop()

    def all_is_sent(self) -> None:
        for phone, person in self.shelves:
            self.holders[phone] = person
            self.the_phone_comes_home(phone)

    def every_entry_has_its_place(self) -> None:
        shelves = self.shelves.values()
        shown = {edit.id for shelf in shelves for edit in (*shelf.asked, *shelf.answered_with, *shelf.refused)}
        assert not [edit for shelf in shelves for edit in shelf.waiting]
        assert {edit.id for edit in self.typed} <= {*self.log(), *shown}

    def every_seal_is_the_record_or_kept(self) -> None:
        for (key, own), sent in self.sealed.items():
            seal = Seal.objects.for_firm(self.firm).get(key=key, digest=own)
            assert bytes(seal.document) == sent.document.encode()
            if seal.record:
                assert canonical_bytes(selectors.document_of(seal.record)) == bytes(seal.document)
            else:
                assert seal.why_not and seal.asks


def run(plan: Plan, members: list[Membership], examples: int, steps: int) -> None:
    some = settings(max_examples=examples, stateful_step_count=steps, derandomize=True, database=None)
    run_state_machine_as_test(lambda: PhonesAndSeals(plan, members), settings=some)


def test_phones_converge_with_nothing_lost_and_nothing_signed_that_nobody_sealed(plan, member, colleague):
    run(plan, [member, colleague], examples=6, steps=25)


@pytest.mark.long
def test_so_they_do_in_many_a_story(plan, member, colleague):
    run(plan, [member, colleague], examples=200, steps=50)
