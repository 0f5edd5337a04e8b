"""What incidents say in words goes with the record of their treatment, and not before; that they were stays."""

from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.db import IntegrityError, transaction

from records.models import AuditEntry, Incident, IncidentEntry, IncidentErasure
from records.services.erasing import erase
from records.services.incidents import add_entry, begin, close, write_facts
from tests.records.services.erasing import AFTER, UNDER, UNTIL

AT = datetime(2026, 9, 14, 17, tzinfo=UTC)
SAID = {
    "place": "at Lark's hedge",
    "description": "Lark's dog walked through it.",
    "affected": "Lark's dog",
    "names": "B. Lark",
    "action": "Rinsed Lark's dog.",
}


@pytest.fixture
def closed(signed, colleague) -> Incident:
    made = begin(signed.firm, colleague.user, uuid4(), "drift", signed)
    write_facts(made, colleague.user, SAID)
    add_entry(
        made, colleague.user, "told", AT, to="Officer Lark", how="by phone", number="26-0041", text="Lark rang."
    )
    close(made, colleague.user, "Lark is well.")
    return made


def test_no_word_of_it_is_left_and_that_it_was_told_of_stays(closed, signed, colleague):
    erase(signed, UNTIL, UNDER, AFTER, colleague.user)
    closed.refresh_from_db()
    assert (closed.kind, closed.state, closed.happened_at is not None) == ("drift", "closed", True)
    rows = [*Incident.across_firms.values(), *IncidentEntry.across_firms.values()]
    assert "Lark" not in str(rows)
    told = IncidentEntry.across_firms.get(kind="told")
    assert (told.at, told.how, told.number) == (AT, "by phone", "26-0041")


def test_who_did_what_never_had_its_words(closed):
    assert "Lark" not in str(
        list(AuditEntry.across_firms.filter(thing="records.incident").values("changes", "reason"))
    )


def test_no_entry_is_emptied_without_the_erasure_that_says_so(closed):
    entry = IncidentEntry.across_firms.filter(incident=closed)
    with pytest.raises(IntegrityError), transaction.atomic():
        entry.update(text="")
    IncidentErasure.objects.create(firm=closed.firm, incident=closed)
    with pytest.raises(IntegrityError), transaction.atomic():
        entry.update(text="something else")
    entry.update(text="")


def test_of_another_incident_nothing_goes(closed, signed, colleague):
    other = begin(signed.firm, colleague.user, uuid4(), "complaint")
    write_facts(other, colleague.user, {"names": "B. Lark"})
    erase(signed, UNTIL, UNDER, AFTER, colleague.user)
    other.refresh_from_db()
    assert other.names == "B. Lark"
