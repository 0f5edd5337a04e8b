"""What goes wrong under the API's addresses is said as problem details (RFC 9457)."""

import pytest
from django.urls import reverse

from records.programs import problems
from tests.records.programs.calling import program

MEMBERS = {"type", "title", "status"}


def is_problem(answer, code: int) -> bool:
    told = answer.json()
    return (
        answer.status_code == told["status"] == code
        and answer["Content-Type"] == "application/problem+json"
        and told.keys() >= MEMBERS
    )


@pytest.fixture
def where(draft) -> str:
    return reverse("api_treatment", kwargs={"uuid": draft.pk})


@pytest.mark.parametrize(
    ("code", "call"),
    [
        (400, lambda made, where: made.post(f"{where}edits/", {"edits": [{}]})),
        (400, lambda made, where: made.get(where, Host="evil.example")),
        (404, lambda made, where: made.get("/api/v1/treatments/00000000-0000-4000-8000-000000000000/")),
        (404, lambda made, where: made.get("/api/v1/no-such-thing/")),
        (405, lambda made, where: made.post(where, {})),
        (409, lambda made, where: made.post(f"{where}edits/", edit("record.number"))),
        (412, lambda made, where: made.post(f"{where}edits/", edit("notes"), If_Match='"other"')),
        (413, lambda made, where: made.post(f"{where}edits/", {}, Content_Length=str(2**31))),
        (415, lambda made, where: made.post(f"{where}edits/", {}, Content_Type="text/plain")),
    ],
)
def test_each_refusal_is_a_problem(member, where, code, call):
    assert is_problem(call(program(member), where), code)


def edit(path: str) -> dict:
    return {"edits": [{"id": "e", "path": path, "value": "x", "base_revision": 0}]}


def test_a_fault_of_ours_is_a_problem_and_tells_nothing_of_itself(member, where, monkeypatch):
    monkeypatch.setattr("records.api.TreatmentView.treatment", lambda *_: 1 / 0)
    answer = program(member).get(where)
    assert is_problem(answer, 500)
    assert "division" not in answer.content.decode()


def test_each_fault_of_a_call_stands_with_its_place(member, where):
    errors = program(member).post(f"{where}edits/", {"edits": [{"id": "e", "path": "notes"}]}).json()["errors"]
    assert {each["pointer"] for each in errors} == {"#/edits/0/value", "#/edits/0/base_revision"}


def test_pages_for_people_stay_pages(client, db):
    assert client.get("/no-such-page/")["Content-Type"].startswith("text/html")


def test_the_type_of_a_problem_leads_to_its_words(client, member, where):
    client.force_login(member.user)
    told = client.get("/api/v1/no-such-thing/").json()
    page, _mark, kind = told["type"].partition("#")
    assert f'id="{kind}"' in client.get(page).content.decode()
    assert set(problems._BY_STATUS.values()) <= problems.TITLES.keys()
