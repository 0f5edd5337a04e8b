"""Something went wrong: what to do now, one tap that keeps it, the facts, who was told, the paper, the end."""

import io
from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from pypdf import PdfReader

from compliance.pages.desk.harm import incidents as on_the_desk
from compliance.services import incidents
from records.document.edits import Edit
from records.incidents.first_steps import ALWAYS, FIRST_STEPS
from records.models import Incident, IncidentEntry, Treatment
from records.services.drafts import edit_draft
from records.services.incidents_on_records import told_on_records
from shared import clock
from tests.factories import PASSWORD, LotFactory
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.auditing.entries import newest

NOW = datetime(2026, 9, 16, 17, 0, tzinfo=UTC)
KEY = "0a4f2f60-2f5e-4d53-9d7c-0a6c1f5d2b11"
WASHINGTON = "us-wa: Department of Ecology, if you spill"
FACTS = {
    "kind": "spill",
    "happened_at": "2026-09-16T09:40",
    "known_at": "2026-09-16T09:55",
    "place": "Behind the garage",
    "description": "A hose burst at the reel.",
    "amount": "2 qt",
    "reached": ["hard-ground", "drain"],
    "affected": "A neighbour's dog walked through it.",
    "names": "B. Lark, 6 Heron Row",
    "action": "Shut down, ringed with sand, soaked up.",
}


@pytest.fixture
def crew(client, member):
    client.force_login(member.user)
    with clock.at(NOW):
        yield client


def begun(client, kind="spill", treatment=None, key=KEY) -> Incident:
    where = reverse("incident_now") + (f"?treatment={treatment.pk}" if treatment else "")
    answer = client.post(where, {"kind": kind, "key": key})
    return Incident.across_firms.get(pk=answer["Location"].strip("/").rpartition("/")[2])


def page_of(client, incident, name="incident", **more):
    return client.get(reverse(name, kwargs={"incident": incident.pk, **more}))


def text_of(answer) -> str:
    return " ".join(
        " ".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages).split()
    )


def test_what_to_do_and_whom_to_call_stand_before_anything_that_is_asked(crew):
    page = crew.get(reverse("incident_now")).content.decode()
    places = [page.index(words) for words in (ALWAYS[0].en, "tel:911", "tel:18002221222", "tel:18002585990")]
    assert places == sorted(places)
    assert max(places) < page.index('<form method="post">')


def test_two_taps_begin_it_and_what_to_do_now_comes_first(crew, member, draft):
    page = crew.get(reverse("home")).content.decode()
    assert reverse("incident_now") in page
    made = begun(crew)
    assert (made.kind, made.state, made.begun_by, made.happened_at) == ("spill", "open", member.user, NOW)
    said = page_of(crew, made).content.decode()
    assert said.index(FIRST_STEPS["spill"][0].en) < said.index("What is known")
    assert begun(crew) == made
    with clock.at(NOW + timedelta(days=7)):
        assert begun(crew, "drift") != made, "a page that a phone kept begins another one later"


def test_from_one_page_another_kind_place_or_person_tells_of_another_incident(crew, client, draft, colleague):
    spill = begun(crew)
    others = [begun(crew, "exposure"), begun(crew, treatment=draft)]
    client.force_login(colleague.user)
    others.append(begun(client))
    assert len({spill.pk, *(each.pk for each in others)}) == 4
    assert [each.kind for each in others] == ["exposure", "spill", "spill"]


def test_the_facts_are_kept_and_shown_and_who_did_what_names_nobody(crew, member, firm):
    made = begun(crew)
    lot = LotFactory(firm=firm, label__product__name="Sample Moss Wash")
    answer = crew.post(
        reverse("incident_facts", kwargs={"incident": made.pk}), FACTS | {"product": str(lot.label.product_id)}
    )
    assert answer.status_code == 302
    said = page_of(crew, made).content.decode()
    for words in ("Behind the garage", "2 qt", "hard ground, a drain or sewer", "B. Lark", "Sample Moss Wash"):
        assert words in said
    form = page_of(crew, made, "incident_facts").context["form"]
    assert form["happened_at"].value().isoformat() == "2026-09-16T09:40:00"
    assert "Lark" not in str(newest(firm, thing="records.incident", kind="changed").changes)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"happened_at": ""}, "happened_at"),
        ({"happened_at": "2026-09-17T09:00"}, "happened_at"),
        ({"known_at": "2026-09-16T09:00"}, "known_at"),
        ({"amount": "2 hours"}, "amount"),
        ({"kind": "earthquake"}, "kind"),
        ({"reached": ["moon"]}, "reached"),
        ({"treatment": "none-such"}, "treatment"),
    ],
)
def test_what_can_t_be_is_said_beside_its_field(crew, typed, field):
    made = begun(crew)
    answer = crew.post(reverse("incident_facts", kwargs={"incident": made.pk}), FACTS | typed)
    assert (answer.status_code, set(answer.context["form"].errors)) == (422, {field})


def opened(client, incident) -> dict:
    """The boxes of the facts' form as somebody has them on their screen."""
    context = page_of(client, incident, "incident_facts").context
    boxes = {each.name: each.field.widget.format_value(each.value()) for each in context["form"]}
    return {name: value for name, value in boxes.items() if value} | {"seen": context["seen"]}


def test_of_two_who_write_at_once_neither_takes_away_what_the_other_wrote(crew, firm):
    made = begun(crew)
    where = reverse("incident_facts", kwargs={"incident": made.pk})
    office, phone = opened(crew, made), opened(crew, made)
    assert crew.post(where, phone | {"description": "A hose burst.", "reached": ["drain"]}).status_code == 302
    assert crew.post(where, office | {"action": "Rang the county."}).status_code == 302
    made.refresh_from_db()
    assert (made.description, made.action, made.reached) == ("A hose burst.", "Rang the county.", ["drain"])
    changed = newest(firm, thing="records.incident", kind="changed").changes
    assert list(changed) == ["action"]


def test_where_both_wrote_in_one_box_the_second_is_told_what_the_first_wrote(crew):
    made = begun(crew)
    where = reverse("incident_facts", kwargs={"incident": made.pk})
    office = opened(crew, made)
    first = {"description": "A hose\nburst.", "kind": "drift", "action": "Soaked up."}
    crew.post(where, opened(crew, made) | first)
    answer = crew.post(where, office | {"description": "It leaked.", "kind": "exposure"})
    assert (answer.status_code, set(answer.context["form"].errors)) == (422, {"description", "kind"})
    said = " ".join(answer.content.decode().split())
    assert "since you opened the page: “A hose burst.”" in said
    assert "“drift”" in said
    both = office | {"description": "A hose burst, it leaked.", "kind": "drift", "seen": answer.context["seen"]}
    assert crew.post(where, both).status_code == 302
    made.refresh_from_db()
    assert (made.description, made.kind) == ("A hose burst, it leaked.", "drift")
    assert made.action == "Soaked up."


def test_a_fault_in_one_box_takes_away_nothing_that_was_written_meanwhile_in_another(crew):
    made = begun(crew)
    where = reverse("incident_facts", kwargs={"incident": made.pk})
    office = opened(crew, made) | {"amount": "2 hours", "place": "Yard"}
    crew.post(where, opened(crew, made) | {"action": "Soaked up.", "place": "Behind the garage"})
    wrong = crew.post(where, office)
    again = crew.post(where, office | {"amount": "2 qt", "seen": wrong.context["seen"]})
    assert set(again.context["form"].errors) == {"place"}
    crew.post(where, office | {"amount": "2 qt", "seen": again.context["seen"]})
    made.refresh_from_db()
    assert (made.action, made.place, str(made.amount.value)) == ("Soaked up.", "Yard", "2")


@pytest.mark.parametrize("seen", ["", "[]", "{"])
def test_without_a_word_of_what_was_seen_what_differs_is_written(crew, seen):
    made = begun(crew)
    crew.post(reverse("incident_facts", kwargs={"incident": made.pk}), FACTS)
    known = opened(crew, made) | {"description": "Two hoses burst.", "seen": seen}
    answer = crew.post(reverse("incident_facts", kwargs={"incident": made.pk}), known)
    made.refresh_from_db()
    assert (answer.status_code, made.description) == (302, "Two hoses burst.")


def test_what_is_written_to_one_that_was_closed_meanwhile_is_said_not_to_be_kept(crew, colleague):
    made = begun(crew, "complaint")
    incidents.close(made, colleague.user, "They are well.")
    for name, given in (
        ("incident_facts", FACTS),
        ("incident_told", {"at": "2026-09-16T10:00", "to": "the insurer"}),
        ("incident", {"do": "note", "at": "2026-09-16T10:00", "text": "Rang again."}),
    ):
        answer = crew.post(reverse(name, kwargs={"incident": made.pk}), given)
        assert answer.status_code == 422
        assert "was closed meanwhile, and nothing was kept" in answer.content.decode()


def test_a_report_is_answered_for_and_then_it_is_due_no_more(crew, member, firm):
    made = begun(crew)
    where = reverse("incident_told", kwargs={"incident": made.pk}) + f"?duty={WASHINGTON}"
    assert crew.get(where).context["form"]["to"].value() == "the Emergency Management Division"
    given = {"kind": "told", "at": "2026-09-16T09:58", "to": "Duty officer, the division", "how": "by phone"}
    assert crew.post(where, given | {"to": ""}).status_code == 422
    crew.post(where, given | {"number": "26-0041"})
    not_owed = reverse("incident_told", kwargs={"incident": made.pk}) + "?duty=us: 40 CFR 302.6"
    assert crew.post(not_owed, {"kind": "not-owed", "at": "2026-09-16T09:59"}).status_code == 422
    assert incidents.due(firm, NOW), "one report is still open"
    crew.post(not_owed, {"kind": "not-owed", "at": "2026-09-16T09:59", "text": "Far below the quantity."})
    assert incidents.due(firm, NOW) == []
    page = page_of(crew, made)
    assert page.context["incident"].state == "reported"
    assert "their number 26-0041" in page.content.decode()


def test_it_is_followed_up_and_closed_by_the_manager_alone(crew, client, colleague):
    made = begun(crew, "complaint")
    where = reverse("incident", kwargs={"incident": made.pk})
    crew.post(where, {"do": "note", "at": "2026-09-16T10:00", "text": "Rang back; they are well."})
    assert crew.post(where, {"do": "end", "why": "They are well."}).status_code == 403
    client.force_login(colleague.user)
    assert client.post(where, {"do": "end", "why": ""}).status_code == 422
    client.post(where, {"do": "end", "why": "They are well."})
    assert [each.kind for each in IncidentEntry.across_firms.order_by("made_at")] == ["note", "closed"]
    page = client.get(where)
    assert (page.context["incident"].state, "Add what was done" in page.content.decode()) == ("closed", False)
    client.post(where, {"do": "end", "why": "They wrote again."})
    assert client.get(where).context["incident"].state == "open"


def test_it_can_t_be_closed_while_nobody_said_whether_a_report_is_owed(client, colleague, crew):
    made = begun(crew)
    client.force_login(colleague.user)
    answer = client.post(reverse("incident", kwargs={"incident": made.pk}), {"do": "end", "why": "Done."})
    assert answer.status_code == 422
    assert "Say first of each report" in answer.content.decode()


def test_the_report_leaves_names_out_unless_they_are_asked_for(crew, firm):
    made = begun(crew)
    crew.post(reverse("incident_facts", kwargs={"incident": made.pk}), FACTS)
    plain = text_of(page_of(crew, made, "incident_report", language="en"))
    assert "A hose burst at the reel." in plain
    assert "B. Lark" not in plain
    assert "Names are known to the firm, and left out here." in plain
    where = reverse("incident_report", kwargs={"incident": made.pk, "language": "es"}) + "?names=yes"
    assert "B. Lark, 6 Heron Row" in text_of(crew.get(where))
    assert newest(firm).kind == "printed"


def test_one_at_a_signed_treatment_is_signed_into_its_record_as_a_follow_up(crew, signed, member):  # noqa: F811
    made = begun(crew, "drift", signed)
    page = page_of(crew, made).content.decode()
    where = reverse("follow_up", kwargs={"uuid": signed.pk}) + f"?incident={made.pk}"
    assert where in page
    crew.post(
        reverse("incident_facts", kwargs={"incident": made.pk}),
        FACTS | {"kind": "drift", "treatment": str(signed.pk)},
    )
    form = crew.get(where).context["form"]
    assert (form["kind"].value(), form["day"].value().isoformat()) == ("incident", "2026-09-16")
    assert form["detail"].value().startswith("drift: A hose burst")
    given = {name: form[name].value() for name in ("kind", "day", "time", "detail")} | {"password": PASSWORD}
    given |= {"declares": "on"}
    assert crew.post(where, given | {"time": "09:40"}).status_code == 302
    made.refresh_from_db()
    assert made.follow_up.follow_up["detail"].startswith("drift: A hose burst")
    assert where not in page_of(crew, made).content.decode()
    assert told_on_records(made.firm) == []


def test_what_a_record_tells_is_opened_with_one_tap(crew, member, ticked, firm):
    told = {"id": "5c4f2f60-2f5e-4d53-9d7c-0a6c1f5d2b11", "kind": "spill", "at": "2026-09-14T09:30:00-07:00"}
    told |= {"description": "A cup tipped over.", "reported_to": "the county", "reported_at": told["at"]}
    edit_draft(ticked, [Edit("i", f"incidents[{told['id']}]", told, ticked.revision)], member.user)
    (found,) = crew.get(reverse("incidents")).context["told"]
    (need,) = on_the_desk(firm, "en").needs
    assert (need.what, need.about) == ("Spill", f"{ticked.number} · {ticked.site_name}")
    crew.post(reverse("take_incident"), {"key": found.key})
    made = Incident.objects.for_firm(firm).get()
    assert (made.description, made.treatment, made.item) == ("A cup tipped over.", ticked, told["id"])
    assert made.entries.get().to == "the county"
    page = crew.get(reverse("incidents"))
    assert (page.context["told"], [each.pk for each, _due in page.context["going"]]) == ([], [made.pk])
    again = Treatment.objects.for_firm(firm).get(pk=ticked.pk).document["incidents"]
    assert again == [told], "it stands in the document once, as the crew wrote it"


def test_another_firm_sees_none_and_begins_its_own_with_the_same_key(client, crew, stranger):
    made = begun(crew)
    client.force_login(stranger.user)
    assert page_of(client, made).status_code == 404
    assert client.get(reverse("incidents")).context["going"] == []
    assert begun(client).firm == stranger.firm
