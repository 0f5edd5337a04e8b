"""A request for records is taken in with its deadline, shown with what meets it, answered and closed."""

import io
from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from pypdf import PdfReader

from compliance.models import RecordsRequest
from records.document.edits import Edit
from records.models import Treatment
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from records.services.follow_ups import sign_follow_up
from records.services.planning import plan_treatment
from records.services.signing import void
from records.services.to_sign import Signer
from shared import clock
from tests.factories import MembershipFactory
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.auditing.entries import members, newest
from tests.records.logged import sign_now

WASHINGTON = "us-wa: RCW 17.21.100(4)(a), (b)"
ASKED = {
    "asked_by": "regulator",
    "name": "M. Reyes, Department of Samples",
    "means": "letter",
    "received_at": "2026-09-11T16:30",
    "asked_for": "Every application of Sample Moss Wash from May to September.",
    "duty": WASHINGTON,
}
SEARCH = "?product=sample+moss+wash&day_from=2026-05-01&day_to=2026-09-30"
NOW = datetime(2026, 9, 16, 17, 0, tzinfo=UTC)


@pytest.fixture
def manager(client, colleague):
    client.force_login(colleague.user)
    with clock.at(NOW):
        yield client


def taken(manager, search=SEARCH, **given) -> RecordsRequest:
    answer = manager.post(reverse("new_request") + search, {**ASKED, **given})
    assert answer.status_code == 302, answer.context["form"].errors
    return RecordsRequest.across_firms.get(pk=answer["Location"].strip("/").rpartition("/")[2])


def page_of(manager, asked: RecordsRequest):
    return manager.get(reverse("request", kwargs={"asked": asked.pk}))


def test_a_form_that_is_sent_twice_makes_one_request_and_one_that_was_changed_another(manager):
    key = manager.get(reverse("new_request") + SEARCH).context["key"]
    first, second = (taken(manager, key=key) for _ in range(2))
    assert first == second
    assert taken(manager, key=key, name="R. Reyes") != first
    assert RecordsRequest.across_firms.count() == 2


def test_the_time_to_answer_is_that_of_the_paragraph_unless_they_want_it_sooner(manager):
    seventy_two = datetime(2026, 9, 14, 23, 30, tzinfo=UTC)  # 16:30 in Port Quill on Friday, and 72 hours
    asked = taken(manager)
    assert (asked.due_at, asked.due_from, asked.paragraph) == (seventy_two, "rule", "RCW 17.21.100(4)(a), (b)")
    sooner = taken(manager, due_at_day="2026-09-12", due_at_time="09:00")
    assert (sooner.due_at, sooner.due_from) == (datetime(2026, 9, 12, 16, 0, tzinfo=UTC), "typed")
    later = taken(manager, due_at_day="2026-09-30", due_at_time="09:00")
    assert (later.due_at, later.due_from) == (seventy_two, "rule")
    assert "When they want it" in page_of(manager, later).content.decode()
    assert later.they_set == datetime(2026, 9, 30, 16, 0, tzinfo=UTC)
    nobody_says = taken(manager, asked_by="insurer")
    assert (nobody_says.due_at, nobody_says.due_from) == (None, "")


def test_by_thursday_is_to_the_end_of_that_day_on_the_firms_clock(manager):
    asked = taken(manager, duty="", means="phone", due_at_day="2026-09-17")
    assert (asked.due_at, asked.due_from) == (datetime(2026, 9, 18, 6, 59, tzinfo=UTC), "typed")
    assert "Due Sept. 17, 2026, 23:59" in page_of(manager, asked).content.decode()


def test_how_it_came_is_preset_for_nobody(manager):
    form = manager.get(reverse("new_request")).context["form"]
    assert form["means"].initial is None
    assert next(iter(form.fields["means"].choices))[0] == ""


def test_to_who_treats_a_person_what_they_must_know_is_told_at_once(manager):
    said = "told at once, by phone"
    assert said in page_of(manager, taken(manager, asked_by="medical")).content.decode()
    assert said not in page_of(manager, taken(manager)).content.decode()


@pytest.mark.parametrize("duty", ["", "us-wa: RCW 17.21.100(5)", "us: 7 U.S.C. 136i-1(b), (c)"])
def test_who_treats_a_person_is_told_at_once_whatever_paragraph_is_chosen(manager, duty):
    asked = taken(manager, asked_by="medical", duty=duty, means="phone", received_at="2026-09-15T22:00")
    day_after = datetime(2026, 9, 17, 5, 0, tzinfo=UTC)  # RCW 17.21.100(4)(a): the copy within 24 hours
    assert (asked.due_at, asked.due_from, asked.duty) == (day_after, "assumed", duty)
    page = page_of(manager, asked).content.decode()
    assert "told at once, by phone" in page
    assert "assumed: nobody chose a paragraph" in page
    assert "of RCW 17.21.100(4)(a), (b)" in page
    assert "say in writing when you will answer" not in page


def test_where_no_paragraph_sets_a_time_who_treats_a_person_is_answered_at_once(manager, firm):
    firm.jurisdictions = ["us", "us-or"]
    firm.save()
    asked = taken(manager, asked_by="medical", duty="", received_at="2026-09-15T22:00")
    assert (asked.due_at, asked.due_from) == (asked.received_at, "assumed")
    page = page_of(manager, asked).content.decode()
    assert "told at once, by phone" in page
    assert "assumed: no paragraph that we know of" in page


def test_the_list_puts_what_is_due_first_on_top_and_says_what_is_overdue(manager):
    without = taken(manager, asked_by="insurer", name="Sample Mutual")
    medical = taken(manager, asked_by="medical", name="Dr. Example", received_at="2026-09-16T09:00")
    late = taken(manager)
    page = manager.get(reverse("requests"))
    assert list(page.context["waiting"]) == [late, medical, without]
    said = page.content.decode()
    assert said.count("Overdue since") == 1
    assert "No time set" in said


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"name": ""}, "name"),
        ({"received_at": "yesterday"}, "received_at"),
        ({"received_at": "2026-09-20T09:00"}, "received_at"),
        ({"received_at": "0001-01-01T00:00"}, "received_at"),
        ({"due_at_day": "2026-09-10"}, "due_at"),
        ({"due_at_day": "Thursday"}, "due_at"),
        ({"due_at_day": "0001-01-01"}, "due_at"),
        ({"due_at_time": "09:00"}, "due_at"),
        ({"means": ""}, "means"),
        ({"duty": "us-wa: no such paragraph"}, "duty"),
        ({"asked_for": "x" * 2001}, "asked_for"),
    ],
)
def test_what_can_t_be_is_said_beside_its_field_and_nothing_typed_is_lost(manager, typed, field):
    answer = manager.post(reverse("new_request") + SEARCH, {**ASKED, **typed})
    assert answer.status_code == 422
    assert set(answer.context["form"].errors) == {field}
    assert answer.context["form"]["name"].value() == {**ASKED, **typed}["name"]
    assert not RecordsRequest.across_firms.exists()


BACKWARDS = "?day_from=2026-07-31&day_to=2026-05-01"


@pytest.mark.parametrize("search", ["?prodct=moss", "?day_from=yesterday", BACKWARDS])
def test_of_a_search_that_can_t_be_understood_no_request_for_everything_is_made(manager, search):
    where = reverse("new_request") + search
    for answer in (manager.get(where), manager.post(where, ASKED)):
        assert answer["Location"].startswith(reverse("register"))
    assert not RecordsRequest.across_firms.exists()


def test_the_page_shows_what_meets_it_and_apart_what_somebody_may_ask_about(manager, signed, draft, firm):  # noqa: F811
    before = taken(manager)
    page = page_of(manager, before)
    assert page.context["met"]["rows"] == [signed]
    assert page.context["unsigned"]["rows"] == [draft]
    _rule, _title, where = page.context["rules"][0]
    assert reverse("treatment", kwargs={"uuid": signed.pk}) in manager.get(where).content.decode()
    assert page.context["corrected"]["rows"] == []
    outside = taken(manager, search="?product=sample+moss+wash&day_from=2026-09-15&day_to=2026-09-30")
    found = page_of(manager, outside).context
    assert found["met"]["rows"] == []
    assert found["around"]["rows"] == [signed]


def test_what_is_corrected_after_it_came_stands_out(manager, signed, colleague):  # noqa: F811
    asked = taken(manager)
    assert "Corrected after the request came" not in page_of(manager, asked).content.decode()
    draft = start_correction(signed, colleague.user, "the lot was misread")
    version = sign_now(draft, colleague)
    page = page_of(manager, asked)
    assert page.context["corrected"]["rows"] == [version]
    assert "the lot was misread" in page.content.decode()


@pytest.fixture
def moved(manager, signed, colleague):  # noqa: F811
    """A request that the record fitted until it was corrected to another product."""
    asked, mix = taken(manager), signed.document["mixes"][0]
    name = f"mixes[{mix['id']}].products[{mix['products'][0]['id']}].name"
    draft = start_correction(signed, colleague.user, "it was the other can")
    edits = [Edit("other", name, "Other Wash", draft.revision)]
    assert not edit_draft(draft, edits, colleague.user).unread
    sign_now(draft, colleague)
    return asked


def test_what_fitted_when_it_came_is_an_answer_after_its_correction_too(moved, manager, signed):  # noqa: F811
    page = page_of(manager, moved)
    assert page.context["met"]["rows"] == [signed]
    assert page.context["no_more"] == {signed.pk}
    assert "as it stands now it does not" in page.content.decode()
    assert page.context["around"]["rows"] == []


def test_a_record_that_was_corrected_before_it_came_is_no_answer_to_what_it_said_once(moved, manager):
    later = taken(manager, received_at="2026-09-16T10:00")  # NOW, in Port Quill
    assert page_of(manager, later).context["met"]["rows"] == []


def test_what_is_first_signed_or_followed_up_after_it_came_stands_out(manager, signed, member):  # noqa: F811
    sign_follow_up(signed, Signer(member.user), kind="note", at=NOW, detail="rinsed again")
    context = page_of(manager, taken(manager)).context
    assert [each.treatment for each in context["first"]["rows"]] == [signed]
    assert [each.kind for each in context["followed"]["rows"]] == ["note"]


def test_a_correction_is_begun_from_the_page_and_stands_there_while_it_is_written(manager, signed, colleague):  # noqa: F811
    asked = taken(manager)
    assert reverse("correct", kwargs={"uuid": signed.pk}) in page_of(manager, asked).content.decode()
    start_correction(signed, colleague.user, "the lot was misread")
    page = page_of(manager, asked)
    assert page.context["correcting"]["rows"] == [signed]
    assert reverse("correct", kwargs={"uuid": signed.pk}) not in page.content.decode()
    assert "Word that the customer has their copy" in page.content.decode()


def test_a_void_record_is_handed_over_and_pointed_at(manager, signed, colleague):  # noqa: F811
    asked = taken(manager)
    void(signed, "entered twice", Signer(colleague.user))
    page = page_of(manager, asked)
    again = Treatment.across_firms.get(pk=signed.pk)
    assert page.context["met"]["rows"] == page.context["void"]["rows"] == [again]


def test_the_records_stand_on_the_form_of_the_authority_where_there_is_one(manager, signed, firm):  # noqa: F811
    asked = taken(manager)
    assert page_of(manager, asked).context["forms"] == [
        ("us-wa-application-record", "Pesticide application record, elements of the State's form", 1)
    ]
    where = {"asked": asked.pk, "form": "us-wa-application-record", "language": "es"}
    pdf = manager.get(reverse("request_on_form", kwargs=where))
    assert pdf["Content-Type"] == "application/pdf"
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf.content)).pages)
    assert signed.number in text
    assert "Department of Samples" in text
    assert newest(firm, thing="records.treatment").kind == "printed"
    for other in ({"form": "us-or-record"}, {"language": "fr"}):
        assert manager.get(reverse("request_on_form", kwargs=where | other)).status_code == 404
    nothing = taken(manager, search="?product=no+such+product")
    assert page_of(manager, nothing).context["forms"] == []
    assert manager.get(reverse("request_on_form", kwargs=where | {"asked": nothing.pk})).status_code == 404


def test_a_closed_request_says_why_and_is_answered_no_more(manager, firm):
    asked = taken(manager)
    where = reverse("request", kwargs={"asked": asked.pk})
    assert manager.post(where, {"why": ""}).status_code == 422
    manager.post(where, {"why": "withdrawn on the phone"})
    asked.refresh_from_db()
    assert (asked.closed_at, asked.closed_why) == (NOW, "withdrawn on the phone")
    assert manager.get(reverse("answer_request", kwargs={"asked": asked.pk})).status_code == 404
    assert list(manager.get(reverse("requests")).context["closed"]) == [asked]
    assert "closed_at" in members(newest(firm, thing="compliance.recordsrequest"))


def boxes(manager, asked) -> dict:
    """The boxes of the page that changes a request, as somebody has them on their screen."""
    context = manager.get(reverse("mend_request", kwargs={"asked": asked.pk})).context
    found = {each.html_name: each.field.widget.format_value(each.value()) for each in context["form"]}
    day, hour = context["form"].fields["due_at"].widget.decompress(context["form"]["due_at"].value())
    del found["due_at"]
    found |= {"due_at_day": day and str(day), "due_at_time": hour and f"{hour:%H:%M}", "seen": context["seen"]}
    return {name: value for name, value in found.items() if value}


@pytest.fixture
def change(manager):
    def post(asked, **given):
        return manager.post(reverse("mend_request", kwargs={"asked": asked.pk}), boxes(manager, asked) | given)

    return post


def test_what_was_taken_in_wrongly_is_put_right_and_who_did_what_names_nobody(manager, change, firm):
    asked = taken(manager, due_at_day="2026-09-12", due_at_time="09:00")
    assert change(asked, name="R. Reyes, Department of Samples", means="phone").status_code == 302
    asked.refresh_from_db()
    assert (asked.name, asked.means) == ("R. Reyes, Department of Samples", "phone")
    assert asked.due_at == datetime(2026, 9, 12, 16, 0, tzinfo=UTC)
    entry = newest(firm, thing="compliance.recordsrequest", kind="changed")
    assert sorted(entry.changes) == ["means", "name"]
    assert "Reyes" not in str(entry.changes)


def test_a_time_that_they_moved_and_another_paragraph_set_anew_when_it_is_due(manager, change):
    asked = taken(manager)
    change(asked, due_at_day="2026-09-13")
    asked.refresh_from_db()
    assert (asked.due_at, asked.due_from) == (datetime(2026, 9, 14, 6, 59, tzinfo=UTC), "typed")
    change(asked, due_at_day="", duty="")
    asked.refresh_from_db()
    assert (asked.due_at, asked.due_from, asked.they_set) == (None, "", None)
    change(asked, duty=WASHINGTON)
    asked.refresh_from_db()
    assert (asked.due_at, asked.due_from) == (datetime(2026, 9, 14, 23, 30, tzinfo=UTC), "rule")


def test_it_never_came_after_what_was_corrected_since_it_was_entered(manager, change, signed, colleague):  # noqa: F811
    asked = taken(manager)
    with clock.at(NOW + timedelta(hours=2)):
        sign_now(start_correction(signed, colleague.user, "the lot was misread"), colleague)
        refused = change(asked, received_at="2026-09-16T11:30")  # 18:30 UTC; entered at 17:00
        assert refused.status_code == 422
        assert set(refused.context["form"].errors) == {"received_at"}
        assert change(asked, received_at="2026-09-16T09:59").status_code == 302
        assert page_of(manager, asked).context["corrected"]["count"] == 1


def test_another_manager_sees_to_it_and_nobody_who_may_not(manager, change, firm, member):
    asked, other = taken(manager), MembershipFactory(firm=firm, role="manager")
    assert change(asked, handled_by=str(member.user.pk)).status_code == 422
    assert change(asked, handled_by=str(other.user.pk)).status_code == 302
    assert other.user.name in page_of(manager, asked).content.decode()


def test_of_two_who_change_a_request_neither_takes_away_what_the_other_wrote(manager, change):
    asked = taken(manager)
    before = boxes(manager, asked)
    change(asked, reference="26-0041")
    manager.post(reverse("mend_request", kwargs={"asked": asked.pk}), before | {"contact": "by phone"})
    asked.refresh_from_db()
    assert (asked.reference, asked.contact) == ("26-0041", "by phone")


def test_a_closed_request_is_changed_no_more(manager):
    asked = taken(manager)
    manager.post(reverse("request", kwargs={"asked": asked.pk}), {"why": "withdrawn"})
    assert manager.get(reverse("mend_request", kwargs={"asked": asked.pk})).status_code == 404
    assert manager.post(reverse("mend_request", kwargs={"asked": asked.pk}), ASKED).status_code == 404


def test_only_managers_see_requests(client, manager, member, stranger):
    asked = taken(manager)
    client.force_login(member.user)
    for name, of in (
        ("requests", {}),
        ("new_request", {}),
        ("request", {"asked": asked.pk}),
        ("mend_request", {"asked": asked.pk}),
    ):
        assert client.get(reverse(name, kwargs=of)).status_code == 403
    client.force_login(stranger.user)
    stranger.role = "manager"
    stranger.save()
    assert client.get(reverse("request", kwargs={"asked": asked.pk})).status_code == 404
    assert list(client.get(reverse("requests")).context["waiting"]) == []


def test_every_asker_has_a_form_and_a_search_is_said_in_words(manager, plan, colleague):
    plan_treatment(plan.site.firm, colleague.user, plan)
    page = manager.get(reverse("new_request") + SEARCH).content.decode()
    assert "Product or registration number" in page
    assert "sample moss wash" in page
    assert "May 1, 2026" in page
