"""No page shows a person's data without an entry that says who saw them."""

from datetime import timedelta

import pytest
import time_machine
from django.urls import reverse

from compliance.services.requests import take_request
from records.models import AuditEntry, Treatment
from shared import clock
from tests.project.test_addresses import OPEN_TO_ALL, address, our_names, signed  # noqa: F401 - a fixture
from tests.records.auditing.entries import entries, newest
from tests.records.programs.calling import program

A_PERSONS = ("A. Marlowe", "Heron Row")
BY_A_SCRIPT = {"Sec-Fetch-Mode": "cors"}


@pytest.fixture
def told(firm):
    """How many entries there are by now."""
    return lambda: AuditEntry.objects.for_firm(firm).count()


def test_every_page_and_answer_with_a_customers_data_is_noted(client, draft, signed, colleague, told):  # noqa: F811
    client.force_login(colleague.user)
    unnoted = []
    for name in our_names():
        if name not in OPEN_TO_ALL:
            before = told()
            if shows_a_person(client.get(address(name, signed, draft))) and told() == before:
                unnoted.append(name)
    assert unnoted == []


def shows_a_person(answer) -> bool:
    if answer.status_code != 200:
        return False
    text = answer.getvalue().decode(errors="replace")
    return answer.headers.get("Content-Type") == "application/pdf" or any(words in text for words in A_PERSONS)


def test_the_walk_meets_pages_that_show_a_customer(client, draft, signed, colleague):  # noqa: F811
    client.force_login(colleague.user)
    for name in ("home", "register", "plan_site", "treatment", "api_treatment", "record_file"):
        page = client.get(address(name, signed, draft)).content.decode()
        assert any(words in page for words in A_PERSONS), name


@pytest.mark.parametrize("page", ["changelist", "change", "history", "delete"])
@pytest.mark.parametrize("model", ["customer", "site", "treatment", "person", "membership"])
def test_reference_data_are_noted(client, firm, draft, member, colleague, told, model, page):
    row = {
        "customer": draft.site.customer, "site": draft.site, "treatment": draft, "person": member.person,
        "membership": member,
    }[model]  # fmt: skip
    client.force_login(colleague.user)
    before = told()
    arguments = [] if page == "changelist" else [row.pk]
    answer = client.get(reverse(f"admin:records_{model}_{page}", args=arguments))
    (entry,) = entries(firm)[: told() - before]
    assert entry.kind == {200: "viewed", 403: "refused"}[answer.status_code]
    assert entry.thing_id == (str(row.pk) if arguments else f"admin:records_{model}_changelist")


def test_a_past_state_of_a_row_is_noted(client, firm, draft, colleague):
    past = draft.site.history.first()
    client.force_login(colleague.user)
    where = reverse("admin:records_site_simple_history", args=[draft.site_id, past.history_id])
    assert client.get(where).status_code == 200
    assert (newest(firm).kind, newest(firm).thing_id) == ("viewed", str(draft.site_id))


def test_a_look_stands_with_the_page_and_what_was_searched_for(client, firm, draft, member):
    client.force_login(member.user)
    client.get(reverse("medical", kwargs={"uuid": draft.pk}))
    look = newest(firm)
    assert (look.kind, look.by, look.thing_name) == ("viewed", member.user, draft.number)
    assert look.page == "treatments/<uuid:uuid>/medical/"
    client.get(reverse("register"), {"customer": "señor\0 m"})
    assert newest(firm).page == "treatments/?customer=señor m"


def test_papers_and_files_stand_as_printed_and_taken_out(client, firm, signed, colleague):  # noqa: F811
    client.force_login(colleague.user)
    version = {"uuid": signed.pk, "version": 1}
    client.get(reverse("record_file", kwargs=version))
    assert newest(firm).kind == "exported"
    for name in ("record_sheet", "check_sheet"):
        client.get(reverse(name, kwargs=version | {"language": "es"}))
        printed = newest(firm, kind="printed")
        assert printed.thing == "records.signedrecord"
        assert name.replace("_", "-") in printed.page


def test_each_look_of_a_person_counts_and_of_a_script_one_an_hour(client, firm, draft, member):
    client.force_login(member.user)
    where = reverse("treatment", kwargs={"uuid": draft.pk})

    def looks() -> int:
        return len(entries(firm, kind="viewed"))

    with time_machine.travel("2026-09-14T16:00:00Z", tick=False) as watch:
        client.get(where)
        client.get(where)
        assert looks() == 2
        client.get(where, headers=BY_A_SCRIPT)
        client.get(reverse("medical", kwargs={"uuid": draft.pk}), headers=BY_A_SCRIPT)
        assert looks() == 2
        client.get(where)
        assert looks() == 3
        watch.shift(timedelta(minutes=61))
        client.get(where, headers=BY_A_SCRIPT)
        client.get(where, headers=BY_A_SCRIPT)
        assert looks() == 4


def test_what_a_script_asks_for_first_counts(client, firm, draft, colleague, member):
    where = reverse("treatment", kwargs={"uuid": draft.pk})
    client.force_login(member.user)
    client.get(where)
    client.force_login(colleague.user)
    client.get(where, headers=BY_A_SCRIPT)
    assert newest(firm, kind="viewed").by == colleague.user


def test_no_word_of_the_caller_hides_another_search_or_page_of_a_list(client, firm, draft, member):
    client.force_login(member.user)
    client.get(reverse("register"))
    asked = [{"customer": "Smith"}, {"customer": "Garcia"}, {"customer": "Garcia", "after": draft.pk}]
    long = [{"text": "x" * 700, "customer": name} for name in ("Smith", "Garcia")]
    for query in (*asked, *asked, *long):
        client.get(reverse("register"), query, headers=BY_A_SCRIPT)
    looks = entries(firm, kind="viewed")[:-1]
    assert [each.page for each in looks[2:]] == [
        f"treatments/?customer=Garcia&after={draft.pk}",
        "treatments/?customer=Garcia",
        "treatments/?customer=Smith",
    ]
    assert {each.reason for each in looks} == {""}
    assert looks[0].page == looks[1].page


def test_each_call_with_a_token_counts_whatever_it_says_it_is(firm, draft, colleague):
    books = program(colleague)
    for where in (reverse("api_treatments"), reverse("api_treatment", kwargs={"uuid": draft.pk})):
        for _ in range(2):
            assert books.get(where, **{"Sec-Fetch-Mode": "cors"}).status_code == 200
    looks = entries(firm, kind="viewed")
    assert [(each.reason, each.by) for each in looks] == [("", colleague.user)] * 4


def test_a_look_at_a_request_says_at_which(client, firm, colleague):
    given = {"asked_by": "court", "name": "M. Reyes", "means": "letter", "asked_for": "All of it."}
    asked = take_request(firm, colleague.user, given | {"received_at": clock.now(), "wanted": {}}, None)
    client.force_login(colleague.user)
    client.get(reverse("request", kwargs={"asked": asked.pk}), headers=BY_A_SCRIPT)
    assert (newest(firm).thing, newest(firm).thing_id) == ("compliance.recordsrequest", str(asked.pk))


def test_nothing_is_shown_that_can_t_be_noted(client, draft, member, monkeypatch):
    client.force_login(member.user)
    client.raise_request_exception = False

    def broken(self, *_args, **_kwargs):
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(AuditEntry, "save", broken)
    for where in (reverse("treatment", kwargs={"uuid": draft.pk}), reverse("register"), reverse("home")):
        answer = client.get(where)
        assert answer.status_code == 500
        assert "Heron Row" not in answer.content.decode()
    assert Treatment.objects.for_firm(draft.firm).count() == 1
