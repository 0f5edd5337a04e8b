"""Who lives near a site, on its pages: who may see and change it, and what is told of it."""

import re
from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from records.models import (
    AuditEntry,
    Neighbour,
    NeighbourList,
    Occupant,
    Parcel,
    PeopleFile,
    Register,
    RegisteredPerson,
)
from records.people_near import neighbours_of
from shared.quantities import Quantity
from tests.factories import NeighbourFactory, RegisteredPersonFactory, RegisterFactory, SiteFactory
from tests.records.auditing.entries import newest
from tests.records.services.test_people_files import ALL, LIST, REGISTER

ADDRESS = {"line1": "6 Heron Row", "city": "Port Quill", "country": "US", "walk": "0"}


@pytest.fixture
def site(firm):
    return SiteFactory(firm=firm, line1="4 Heron Row", latitude="47.1001", longitude="-122.8998")


@pytest.fixture
def office(client, colleague):
    colleague.role = "office"
    colleague.save()
    client.force_login(colleague.user)
    return client


def where(name: str, site, **more) -> str:
    return reverse(name, kwargs={"site": site.pk, **more})


def test_a_neighbour_is_added_changed_and_taken_off_by_hand(office, site):
    office.post(
        where("new_neighbour", site), {**ADDRESS, "name": "B. Lark", "distance": "20 ft", "abutting": "true"}
    )
    row = Neighbour.objects.for_firm(site.firm).get()
    assert (row.distance, row.abutting, row.dwelling, row.known_by) == (
        Quantity("20", "ft"),
        True,
        None,
        "entered",
    )
    there = where("neighbour", site, row=row.pk)
    assert "B. Lark" in office.get(there).content.decode()
    office.post(there, {**ADDRESS, "name": "B. Lark", "distance": "30 ft", "abutting": "false"})
    assert Neighbour.objects.for_firm(site.firm).get().distance == Quantity("30", "ft")
    office.post(there, {"remove": "yes"})
    assert not Neighbour.objects.for_firm(site.firm).exists()
    told = AuditEntry.objects.for_firm(site.firm).filter(thing="records.neighbour")
    assert {each.kind for each in told} == {"created", "changed", "removed", "viewed"}
    assert not any("Lark" in f"{each.thing_name}{each.changes}" for each in told)


def test_an_address_is_needed_and_what_was_typed_stays(office, site):
    answer = office.post(
        where("new_neighbour", site), {**ADDRESS, "line1": "", "name": "B. Lark", "distance": "20"}
    )
    assert answer.status_code == 422
    assert "B. Lark" in answer.content.decode()
    assert not Neighbour.objects.for_firm(site.firm).exists()


def test_an_occupant_of_the_site_is_added(office, site):
    office.post(where("new_occupant", site), {**ADDRESS, "line2": "Apt 2", "name": "O. Wren"})
    assert Occupant.objects.for_firm(site.firm).get().line2 == "Apt 2"
    assert "Apt 2" in office.get(where("neighbours", site)).content.decode()


def test_the_word_that_a_list_is_complete_makes_it_known_to_the_rules(office, site):
    assert "Nobody has said" in office.get(where("neighbours", site)).content.decode()
    assert neighbours_of(site) is None
    assert (
        office.post(where("neighbours", site), {"as_of": "2026-09-01", "source": "walked"}).status_code == 302
    )
    assert neighbours_of(site) == []
    assert "walked" in office.get(where("neighbours", site)).content.decode()


def test_a_crew_reads_the_list_and_changes_nothing(client, member, site):
    row = NeighbourFactory(firm=site.firm, site=site)
    client.force_login(member.user)
    page = client.get(where("neighbours", site)).content.decode()
    assert row.line1 in page
    assert "Add a neighbour" not in page
    for name in ("new_neighbour", "send_people", "new_occupant"):
        assert client.get(where(name, site)).status_code == 403
    assert client.get(where("neighbour", site, row=row.pk)).status_code == 403
    assert client.post(where("neighbours", site), {"as_of": "2026-09-01"}).status_code == 403
    assert client.get(reverse("registers")).status_code == 403
    assert not NeighbourList.objects.for_firm(site.firm).exists()


@pytest.mark.parametrize("role", ["crew", "office", "manager"])
def test_registered_persons_are_shown_by_address_and_never_by_name(client, member, site, role):
    register = RegisterFactory(firm=site.firm)
    RegisteredPersonFactory(firm=site.firm, register=register, name="C. Finch", line1="4 Heron Row")
    member.role = role
    member.save()
    client.force_login(member.user)
    page = client.get(where("neighbours", site)).content.decode()
    assert "0 ft" in page
    assert "C. Finch" not in page


def test_every_look_is_noted(office, site):
    office.get(where("neighbours", site))
    look = newest(site.firm, kind="viewed")
    assert (look.thing_id, look.page) == (str(site.pk), "sites/<uuid:site>/neighbours/")


def test_another_sites_row_and_another_firms_are_not_there(office, site, stranger):
    ours = NeighbourFactory(firm=site.firm)
    theirs = NeighbourFactory(firm=stranger.firm)
    assert office.get(where("neighbour", site, row=ours.pk)).status_code == 404
    assert office.get(where("neighbour", theirs.site, row=theirs.pk)).status_code == 404
    assert office.get(where("neighbours", theirs.site)).status_code == 404


def sent(client, address: str, data: str | bytes, **said):
    content = data.encode() if isinstance(data, str) else data
    file = SimpleUploadedFile("list.csv", content)
    return client.post(address, {"file": file, "source": "walk", "as_of": "2026-09-01", **said})["Location"]


def test_a_list_is_sent_looked_at_and_taken(office, site):
    there = sent(office, where("send_people", site), LIST, kind="neighbours")
    page = office.get(there).content.decode()
    assert "6 Heron Row, Port Quill" in page
    assert 'value="line1" selected' in page
    assert not Neighbour.objects.for_firm(site.firm).exists()
    assert office.post(there, {"take": "yes"})["Location"] == where("neighbours", site)
    assert Neighbour.objects.for_firm(site.firm).count() == 2
    assert office.get(there).status_code == 404


def test_faults_are_told_by_row_and_column_and_nothing_can_be_taken(office, site):
    there = sent(office, where("send_people", site), LIST + "D. Rook,10 Heron Row,far,\n", kind="neighbours")
    page = office.get(there).content.decode()
    assert "Row 4, Distance" in page
    assert 'name="take"' not in page
    assert office.post(there, {"take": "yes"}).status_code == 422
    assert not Neighbour.objects.for_firm(site.firm).exists()


def test_columns_are_chosen_and_read_again(office, site):
    there = sent(office, where("send_people", site), "Who,Where\nB. Lark,6 Heron Row\n", kind="neighbours")
    assert 'name="take"' not in office.get(there).content.decode()
    office.post(there, {"columns": ["name", "line1"]})
    assert 'name="take"' in office.get(there).content.decode()


@pytest.mark.parametrize("columns", [["name"], ["phone", "x", "name"], ["name"] * 70])
def test_a_choice_of_columns_that_does_not_fit_the_file_is_a_fault(office, site, columns):
    there = sent(office, where("send_people", site), LIST, kind="neighbours")
    office.post(there, {"columns": columns})
    page = office.get(there)
    assert page.status_code == 200
    assert "Nothing was taken in" in page.content.decode()


def test_nothing_stays_of_a_file_that_is_dropped(office, site):
    there = sent(office, where("send_people", site), LIST, kind="neighbours")
    office.post(there, {"drop": "yes"})
    assert not PeopleFile.objects.for_firm(site.firm).exists()


def test_parcels_are_taken_with_the_sites_own(office, site):
    there = sent(office, where("send_people", site), ALL, kind="parcels", reach="300 ft")
    assert 'name="own" id="own" maxlength="100" aria-describedby="own-hint" value="own"' in (
        office.get(there).content.decode()
    )
    office.post(there, {"own": "own", "take": "yes"})
    assert Parcel.objects.for_firm(site.firm).get(own=True).number == "own"
    page = office.get(where("neighbours", site)).content.decode()
    assert "touches the site at a corner only" in page
    assert "39.3 ft" in page


def test_a_register_is_brought_in_with_its_source_and_day(office, site):
    there = sent(office, reverse("send_register"), REGISTER, authority="us-wa", name="Sensitive persons")
    page = office.get(there).content.decode()
    assert 'name="take"' in page
    assert office.post(there, {"take": "yes"})["Location"] == reverse("registers")
    assert Register.objects.for_firm(site.firm).get().as_of == date(2026, 9, 1)
    assert RegisteredPerson.objects.for_firm(site.firm).count() == 2
    listed = office.get(reverse("registers")).content.decode()
    assert "2 persons" in listed
    assert "C. Finch" not in listed


def test_another_firms_file_is_not_there(office, site, stranger, client):
    there = sent(office, where("send_people", site), LIST, kind="neighbours")
    client.force_login(stranger.user)
    assert client.get(there).status_code == 404
    assert client.post(there, {"take": "yes"}).status_code == 404


def test_the_same_name_at_the_same_address_is_asked_about_and_taken_if_it_is_somebody_else(office, site):
    lark = {**ADDRESS, "name": "B. Lark"}
    office.post(where("new_neighbour", site), lark)
    again = office.post(where("new_neighbour", site), {**lark, "name": "b. lárk", "line1": "6 HERON ROW"})
    assert again.status_code == 422
    assert "It is somebody else of the same name" in again.content.decode()
    assert Neighbour.objects.for_firm(site.firm).count() == 1
    office.post(where("new_neighbour", site), {**lark, "somebody_else": "on"})
    _first, second = Neighbour.objects.for_firm(site.firm)
    there = where("neighbour", site, row=second.pk)
    assert office.post(there, {**lark, "phone": "+1 360 555 0100"}).status_code == 302
    assert office.post(where("new_neighbour", site), {**lark, "name": "C. Wren"}).status_code == 302


def test_a_phone_that_nobody_can_ring_is_refused_beside_its_field(office, site):
    page = office.post(where("new_neighbour", site), {**ADDRESS, "phone": "ask the son"})
    assert page.status_code == 422
    assert "7 to 20 digits" in page.content.decode()


def test_what_parcels_bring_and_what_a_word_is_taken_for_is_said_before_they_are_taken(office, site):
    there = sent(office, where("send_people", site), ALL, kind="parcels", reach="100 m")
    page = office.get(there).content.decode()
    assert "6 Heron Row (east) · 8 Heron Row (ne) · parcel across, no address" in page
    assert "Neighbours listed from it: 3." in office.post(there, {"take": "yes"}, follow=True).content.decode()
    assert "parcel across, no address" in office.get(where("neighbours", site)).content.decode()
    table = "Street,Role\n7 Heron Row,tenant\n"
    there = sent(office, where("send_people", site), table, kind="neighbours")
    assert "“tenant” is read as: occupant." in office.get(there).content.decode()


def test_the_register_of_a_place_is_chosen_by_the_name_of_the_place(office, site):
    page = office.get(reverse("send_register")).content.decode()
    assert '<option value="us-wa">Washington</option>' in page
    assert '<option value="us">United States</option>' in page


def test_a_long_list_comes_in_pages_in_the_order_of_the_walk(office, site, monkeypatch):
    monkeypatch.setattr("records.pages.neighbours.PAGE", 3)
    names = ["Lark", "Wren", "Finch", "Crow", "Rook", "Crane", "Heron"]
    for place, name in enumerate(names):
        NeighbourFactory(firm=site.firm, site=site, name=name, walk=place // 3, line1=f"{place} Heron Row")
    seen, there = [], where("neighbours", site)
    while there:
        page = office.get(there).content.decode()
        seen.append([name for name in names if f"<br>{name}" in page])
        assert "7 neighbours in all." in page
        following = re.search(r'href="(\?after=[0-9a-f-]{36})"', page)
        there = following and where("neighbours", site) + following[1]
    assert seen == [["Lark", "Wren", "Finch"], ["Crow", "Rook", "Crane"], ["Heron"]]


@pytest.mark.parametrize("after", ["x", "00000000-0000-0000-0000-000000000000", "\0"])
def test_a_page_after_nobody_is_the_first_one(office, site, after):
    NeighbourFactory(firm=site.firm, site=site, name="B. Lark")
    assert "B. Lark" in office.get(where("neighbours", site), {"after": after}).content.decode()
