"""People near a site are forgotten when no treatment needs them, and who did what tells no name."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.management import call_command

from records.document.edits import Edit
from records.models import (
    AuditEntry,
    Neighbour,
    NeighbourList,
    Occupant,
    Parcel,
    PeopleFile,
    Register,
    RegisterTerm,
)
from records.services.drafts import edit_draft
from records.services.forgetting import forget_people
from records.services.neighbours import save_person
from records.services.people_files import keep_file, take
from shared import clock
from tests.factories import (
    NeighbourFactory,
    OccupantFactory,
    ParcelFactory,
    RegisteredPersonFactory,
    RegisterFactory,
)

DAY_OF_THE_DRAFT = datetime(2026, 9, 14, 18, tzinfo=UTC)


def when(days: int):
    """So many days after the day of the draft."""
    return clock.at(DAY_OF_THE_DRAFT + timedelta(days=days))


@pytest.fixture
def near(draft):
    """A row of each kind near the site of the draft."""
    firm, site = draft.firm, draft.site
    return [
        NeighbourFactory(firm=firm, site=site, name="B. Lark", parcel=ParcelFactory(firm=firm, site=site)),
        OccupantFactory(firm=firm, site=site),
    ]


def left(firm) -> int:
    return sum(model.objects.for_firm(firm).count() for model in (Neighbour, Occupant, Parcel, NeighbourList))


def test_they_stay_while_a_treatment_is_planned_or_recent(draft, near):
    with when(days=366):
        assert forget_people(draft.firm).sites == 0
    assert left(draft.firm) == 3


def test_they_go_a_year_after_the_last_treatment_with_the_word_on_their_list(draft, near, member):
    with when(days=0):
        NeighbourList.objects.create(firm=draft.firm, site=draft.site, as_of=date(2026, 9, 1), by=member.user)
    with when(days=367):
        assert forget_people(draft.firm).sites == 1
    assert left(draft.firm) == 0
    entry = AuditEntry.objects.for_firm(draft.firm).get(kind="erased")
    assert entry.thing_id == str(draft.site_id)
    assert entry.changes["neighbours"] == [{"member": "neighbours", "old": 1, "new": 0}]
    assert "Lark" not in str(entry.changes)


def test_the_term_is_a_setting(draft, near, settings):
    settings.PEOPLE_NEAR_DAYS = 30
    with when(days=31):
        assert forget_people(draft.firm).sites == 1


def test_they_stay_where_somebody_has_written_them_lately(draft, near, member):
    with when(days=400):
        save_person(near[0], member.user)
    with when(days=401):
        assert forget_people(draft.firm).sites == 0


def test_a_register_stays_while_a_site_of_its_place_needs_it(draft):
    RegisteredPersonFactory(firm=draft.firm, register=RegisterFactory(firm=draft.firm, authority="us-wa"))
    RegisteredPersonFactory(firm=draft.firm, register=RegisterFactory(firm=draft.firm, authority="us-ny"))
    with when(days=0):
        assert forget_people(draft.firm).registers == 1
    assert Register.objects.for_firm(draft.firm).get().authority == "us-wa"
    with when(days=367):
        assert forget_people(draft.firm).registers == 1
    assert not Register.objects.for_firm(draft.firm).exists()


def test_a_file_that_nobody_took_goes_after_a_day_and_one_that_was_taken_stays(draft, member):
    said = ("neighbours", "walk", date(2026, 9, 1), member.user, draft.firm, draft.site)
    with when(days=0):
        taken = keep_file(b"Street\n6 Heron Row\n", *said)
        take(taken, member.user)
        keep_file(b"Street\n8 Heron Row\n", *said)
        assert forget_people(draft.firm).files == 0
    with when(days=2):
        assert forget_people(draft.firm).files == 1
    assert [each.pk for each in PeopleFile.objects.for_firm(draft.firm)] == [taken.pk]


def test_a_name_by_which_nothing_is_found_any_more_goes_and_others_stay(draft, member):
    terms = RegisterTerm.objects.for_firm(draft.firm)
    person = draft.document["people"][0]["id"]
    edit_draft(draft, [Edit("1", f"people[{person}].role", "helper", draft.revision)], member.user)
    assert terms.filter(kind="applicator").exists()
    forget_people(draft.firm)
    assert not terms.filter(kind="applicator").exists()
    assert terms.filter(kind="customer", folded="a. marlowe").exists()


def test_the_command_takes_every_firm(draft, near, stranger, capsys):
    with when(days=367):
        call_command("forget_people")
    assert "Quillfeather Exterior Care: 1 sites" in capsys.readouterr().out
    assert left(draft.firm) == 0
