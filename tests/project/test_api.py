"""The API as a whole: its description, pages by key, and every call that writes sent twice."""

import json
import re
from datetime import UTC, datetime
from hashlib import sha256

import pytest
from django.apps import apps
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from drf_spectacular.generators import SchemaGenerator

from compliance.models import Handing, RecordsRequest
from compliance.services.handings import begin
from compliance.services.requests import take_request
from compliance.services.signing import prepare
from records.models import KeptAnswer, Notice, StockMove
from records.programs import repeats
from records.services.planning import plan_treatment
from records.services.to_sign import Signer
from shared.tenancy import FirmOwned
from tests.factories import PASSWORD, LotFactory, MembershipFactory
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.programs.calling import Program, program

AT = datetime(2026, 9, 15, 9, 0, tzinfo=UTC)
ASKED = {
    "asked_by": "regulator",
    "name": "M. Reyes",
    "means": "letter",
    "received_at": AT.isoformat(),
    "asked_for": "All of September.",
    "wanted": {"product": "moss"},
}


@pytest.fixture
def request_(colleague) -> RecordsRequest:
    return take_request(colleague.firm, colleague.user, ASKED | {"received_at": AT}, None)


@pytest.fixture
def made(colleague) -> Program:
    return program(colleague)


def test_the_description_is_openapi_3_1_valid_and_without_a_doubt(tmp_path):
    file = tmp_path / "api.json"
    call_command("spectacular", "--format", "openapi-json", "--validate", "--fail-on-warn", "--file", str(file))
    told = json.loads(file.read_text())
    assert told["openapi"].startswith("3.1")
    for calls in told["paths"].values():
        for call in calls.values():
            assert call["x-scope"]
            assert {"4XX", "5XX"} <= call["responses"].keys()


def test_the_page_describes_every_call_in_both_languages(client, colleague):
    client.force_login(colleague.user)
    for language in ("en", "es"):
        page = client.get(reverse("described_api"), headers={"Accept-Language": language}).content.decode()
        for path, calls in SchemaGenerator().get_schema(public=True)["paths"].items():
            assert f"</b> {path}</code>" in page
            for call in calls.values():
                assert f'id="{call["operationId"]}"' in page
                assert call["summary"]


def test_the_page_lists_what_may_be_chosen_and_leads_nowhere_that_is_not(client, colleague):
    client.force_login(colleague.user)
    page = client.get(reverse("described_api")).content.decode()
    assert "* `" not in page
    assert page.count('<li><code translate="no">disposal</code> Disposed of or spilled</li>') == 1
    assert {*re.findall(r'href="#([^"]+)"', page)} <= {*re.findall(r' id="([^"]+)"', page)}


def test_each_call_is_told_in_words_of_its_own():
    paths = SchemaGenerator().get_schema(public=True)["paths"]
    told = [call["summary"] for calls in paths.values() for call in calls.values()]
    assert len({*told}) == len(told)


def plan_body(plan) -> dict:
    line = plan.products[0]
    return {
        "site": str(plan.site.pk),
        "planned_at": "2026-09-20T09:00:00-07:00",
        "surfaces": [str(each.pk) for each in plan.surfaces],
        "people": [str(each.pk) for each in plan.people],
        "products": [{"product": str(line.product.pk), "lot": str(line.lot.pk), "amount": "1,5 gal"}],
        "rig": str(plan.rig.pk),
        "diluent": "13.5 gal",
        "targets": ["moss"],
    }


def sign_body(treatment, user) -> dict:
    prepared = prepare(treatment, Signer(user))
    answers = [
        {"rule": each["rule"], "about": each["about"], "reason": "so"} for each in prepared.open_findings
    ]
    body = {"revision": treatment.revision, "shown": prepared.shown, "password": PASSWORD}
    return body | {"answers": answers, "declares": True}


WRITES = {
    "/api/v1/treatments/": lambda each: ({}, plan_body(each["plan"])),
    "/api/v1/treatments/{uuid}/edits/": lambda each: (
        {"uuid": each["draft"].pk},
        {"edits": [{"id": "e", "path": "notes", "value": "x", "base_revision": each["draft"].revision}]},
    ),
    "/api/v1/treatments/{uuid}/sign/": lambda each: (
        {"uuid": each["done"].pk},
        sign_body(each["done"], each["colleague"].user),
    ),
    "/api/v1/requests/": lambda each: ({}, ASKED),
    "/api/v1/requests/{asked}/close/": lambda each: ({"asked": each["request_"].pk}, {"why": "settled"}),
    "/api/v1/requests/{asked}/bundles/": lambda each: ({"asked": each["request_"].pk}, BUNDLE),
    "/api/v1/requests/{asked}/bundles/{bundle}/take-out/": lambda each: (
        {"asked": each["request_"].pk, "bundle": bundle_of(each["request_"], each["kept"]).pk},
        {},
    ),
    "/api/v1/stock/{lot}/moves/": lambda each: (
        {"lot": each["plan"].products[0].lot.pk},
        {"kind": "purchase", "amount": "3 gal", "on": "2026-09-01"},
    ),
}


BUNDLE = {"to": "M. Reyes", "how": "by e-mail", "withheld": ["notices"], "sheets": [], "language": "en"}


def bundle_of(request, treatment) -> Handing:
    return begin(request, request.handled_by, [treatment.pk], **BUNDLE)


def writes() -> list[str]:
    paths = SchemaGenerator().get_schema(public=True)["paths"]
    return [path for path, calls in paths.items() if calls.keys() - {"get"}]


def test_each_call_that_writes_is_in_the_table_below():
    assert set(writes()) == WRITES.keys()


def said(answer):
    return answer.getvalue() if answer.streaming else answer.json()


def rows() -> dict[str, int]:
    """How many rows there are of everything, but for who did what."""
    models = [each for each in apps.get_models() if issubclass(each, FirmOwned)]
    return {each.__name__: each.across_firms.count() for each in models if each.__name__ != "AuditEntry"}


@pytest.fixture
def each(plan, firm, member, colleague, draft, request_, signed) -> dict:  # noqa: F811
    """What the calls are about."""
    done = plan_treatment(firm, member.user, plan)
    about = {"plan": plan, "draft": draft, "done": done, "request_": request_, "colleague": colleague}
    return about | {"kept": signed}


@pytest.mark.parametrize("path", WRITES)
def test_a_call_that_is_sent_twice_is_done_once_and_its_key_is_for_it_alone(each, made, path):
    ids, body = WRITES[path](each)
    where = path.format(**ids)
    first = made.post(where, body, Idempotency_Key="k1")
    assert first.status_code in (200, 201), first.content
    there = rows()
    again = made.post(where, body, Idempotency_Key="k1")
    assert (again.status_code, said(again)) == (first.status_code, said(first))
    assert rows() == there
    other = made.post(where, {**body, "more": 1}, Idempotency_Key="k1")
    assert (other.status_code, other.json()["type"].rpartition("#")[2]) == (422, "key-used")


def test_what_makes_something_wants_a_key_and_a_refusal_leaves_it_free(made, request_):
    where = reverse("api_requests")
    assert made.post(where, ASKED).json()["errors"][0]["pointer"] == "#/Idempotency-Key"
    assert made.post(where, {**ASKED, "means": "pigeon"}, Idempotency_Key="k").status_code == 400
    assert made.post(where, ASKED, Idempotency_Key="k").status_code == 201


def test_whoever_comes_second_with_a_key_finds_the_answer_of_the_first(made, monkeypatch, request_):
    where, look, looks = reverse("api_requests"), repeats._kept, []

    def not_yet(*asked):
        looks.append(asked)
        return None if len(looks) == 1 else look(*asked)

    first = made.post(where, ASKED, Idempotency_Key="k")
    monkeypatch.setattr(repeats, "_kept", not_yet)
    second = made.post(where, ASKED, Idempotency_Key="k")
    assert (second.status_code, second.json()) == (201, first.json())
    assert RecordsRequest.across_firms.count() == 2


def test_a_kept_answer_names_nobody_and_goes_after_a_day(made, request_):
    made.post(reverse("api_requests"), ASKED, Idempotency_Key="k")
    (kept,) = KeptAnswer.across_firms.all()
    assert "Reyes" not in json.dumps(kept.answer)
    KeptAnswer.across_firms.update(at=AT)
    made.post(reverse("api_requests"), ASKED, Idempotency_Key="k2")
    assert [each.key for each in KeptAnswer.across_firms.all()] == ["k2"]


def test_a_planned_treatment_is_what_was_sent_and_is_found(made, plan):
    answer = made.post(reverse("api_treatments"), plan_body(plan), Idempotency_Key="k").json()
    told = made.get(answer["address"]).json()
    assert told["number"] == answer["number"]
    assert told["document"]["mixes"][0]["products"][0]["amount"] == {"value": "1.5", "unit": "gal"}
    query = {"product": "moss wash", "day_from": "2026-09-20"}
    (found,) = made.get(reverse("api_treatments"), query).json()["items"]
    assert (found["id"], found["site"]) == (answer["id"], str(plan.site.pk))


@pytest.mark.parametrize(
    ("query", "pointer"),
    [
        ({"prodct": "moss"}, "#/prodct"),
        ({"day_from": "31/02/2025"}, "#/day_from"),
        ({"order": "by-luck"}, "#/order"),
        ({"limit": 0}, "#/limit"),
        ({"after": "00000000-0000-4000-8000-000000000000"}, "#/after"),
    ],
)
def test_a_search_that_makes_no_sense_finds_nothing_rather_than_everything(made, draft, query, pointer):
    answer = made.get(reverse("api_treatments"), query)
    assert (answer.status_code, [each["pointer"] for each in answer.json()["errors"]]) == (400, [pointer])


@pytest.mark.parametrize("order", ["newest", "oldest", "number", "customer", "site"])
def test_pages_hold_each_treatment_once_in_every_order(made, plan, member, order):
    numbers = [plan_treatment(plan.site.firm, member.user, plan).number for _ in range(5)]
    where, found = f"{reverse('api_treatments')}?limit=2&order={order}", []
    while where:
        told = made.get(where).json()
        found += [each["number"] for each in told["items"]]
        where = told["next"]
    assert sorted(found) == numbers


def test_lists_of_rows_come_in_pages_newest_first(made, colleague):
    rows = [
        take_request(colleague.firm, colleague.user, ASKED | {"received_at": AT, "name": str(n)}, None)
        for n in range(5)
    ]
    where, found = f"{reverse('api_requests')}?limit=2", []
    while where:
        told = made.get(where).json()
        found += [each["name"] for each in told["items"]]
        where = told["next"]
    assert found == [each.name for each in reversed(rows)]


def test_findings_are_those_of_the_newest_check(made, signed, draft):  # noqa: F811
    (found,) = made.get(reverse("api_findings")).json()["items"]
    assert found["treatment"] == str(signed.pk)
    assert {each["outcome"] for each in found["findings"]} <= {"not_met", "cant_tell"}
    assert all(each["title"] for each in found["findings"])


def test_a_signed_record_is_given_out_with_its_proof(made, signed):  # noqa: F811
    where = reverse("api_versions", kwargs={"uuid": signed.pk})
    (version,) = made.get(where).json()["items"]
    assert (version["version"], version["holds"]) == (1, True)
    file = made.get(f"{where}1/").json()
    assert file["record"]["record"]["number"] == signed.number
    assert made.get(f"{where}2/").status_code == 404


def test_of_a_notice_nobodys_name_is_told(made, draft, member):
    Notice.objects.create(
        treatment=draft, site=draft.site, key="k", digest="d", planned_at=AT, made_by=member.user,
        to="neighbour", name="A. Marlowe", means="letter",
    )  # fmt: skip
    answer = made.get(reverse("api_notices"), {"treatment": draft.pk})
    assert [each["means"] for each in answer.json()["items"]] == ["letter"]
    assert "Marlowe" not in answer.content.decode()


def test_a_request_is_told_with_what_meets_it(made, signed, draft, request_):  # noqa: F811
    where = reverse("api_request", kwargs={"asked": request_.pk})
    told = made.get(where).json()
    assert (told["signed"], told["unsigned"], told["void"]) == (1, 1, 0)
    assert [each["id"] for each in made.get(f"{where}treatments/").json()["items"]] == [str(signed.pk)]
    assert made.post(f"{where}close/", {"why": "settled"}, Idempotency_Key="k").status_code == 200
    assert made.post(f"{where}close/", {"why": "again"}, Idempotency_Key="k2").status_code == 409


def test_what_came_to_the_shelf_is_on_hand(made, plan):
    lot = plan.products[0].lot
    where = reverse("api_moves", kwargs={"lot": lot.pk})
    body = {"kind": "count", "amount": "3 gal", "on": "2026-09-01", "why": "by J. Quill"}
    made.post(where, body, Idempotency_Key="k")
    assert StockMove.across_firms.get().amount.unit == "gal"
    (shelf,) = made.get(reverse("api_stock")).json()["items"]
    assert (shelf["number"], shelf["on_hand"]) == (lot.number, "3 gal")
    assert made.get(reverse("api_stock"), {"after": lot.number}).json()["items"] == []


def test_a_key_tells_of_one_entry_also_when_its_answer_is_no_longer_kept(made, firm, plan):
    body = {"kind": "purchase", "amount": "5 gal", "on": "2026-09-01", "why": ""}
    where = reverse("api_moves", kwargs={"lot": plan.products[0].lot.pk})
    first = made.post(where, body, Idempotency_Key="k").json()
    KeptAnswer.objects.for_firm(firm).delete()
    assert made.post(where, body, Idempotency_Key="k").json() == first
    KeptAnswer.objects.for_firm(firm).delete()
    other = reverse("api_moves", kwargs={"lot": LotFactory(firm=firm).pk})
    for at, said in ((where, body | {"amount": "99 gal"}), (other, body)):
        refused = made.post(at, said, Idempotency_Key="k")
        assert (refused.status_code, refused.json()["type"].partition("#")[2]) == (422, "key-used")
    assert StockMove.across_firms.get().amount.value == "5"


@pytest.mark.parametrize(
    ("said", "about"),
    [({"on": "2099-01-01"}, "on"), ({"amount": "0 gal"}, "amount"), ({"kind": "disposal"}, "why")],
)
def test_what_the_page_refuses_to_write_down_the_api_refuses_too(made, plan, said, about):
    where = reverse("api_moves", kwargs={"lot": plan.products[0].lot.pk})
    body = {"kind": "purchase", "amount": "5 gal", "on": "2026-09-01", **said}
    refused = made.post(where, body, Idempotency_Key="k")
    assert refused.status_code == 400
    assert [each["pointer"] for each in refused.json()["errors"]] == [f"#/{about}"]
    assert not StockMove.across_firms.exists()


def test_a_strangers_rows_are_not_there(plan, draft, request_, stranger):
    theirs = program(stranger)
    for name in ("treatments", "findings", "notices", "requests", "stock", "sites", "products", "rigs"):
        assert theirs.get(reverse(f"api_{name}")).json()["items"] == []
    for path, about in WRITES.items():
        if "{" in path and "sign" not in path and "take-out" not in path:
            ids, body = about({"draft": draft, "plan": plan, "request_": request_})
            assert theirs.post(path.format(**ids), body, Idempotency_Key="k").status_code == 404
    refused = theirs.post(reverse("api_treatments"), plan_body(plan), Idempotency_Key="k")
    assert [each["pointer"] for each in refused.json()["errors"]] == ["#/products"]


def test_an_inspector_reads_signed_records_and_is_told_no_findings(firm, draft, signed):  # noqa: F811
    inspector = program(MembershipFactory(firm=firm, role="inspector"))
    (found,) = inspector.get(reverse("api_treatments")).json()["items"]
    assert (found["number"], found["outcome"]) == (signed.number, "")
    assert inspector.get(reverse("api_treatments"), {"outcome": "not_met"}).status_code == 400
    assert inspector.get(reverse("api_findings")).status_code == 403
    assert inspector.get(reverse("api_stock")).status_code == 403


def test_a_bundle_is_made_taken_out_and_then_stands_as_handed_over(made, signed, request_):  # noqa: F811
    where = f"{reverse('api_request', kwargs={'asked': request_.pk})}"
    begun = made.post(f"{where}bundles/", BUNDLE, Idempotency_Key="k").json()
    told = made.get(begun["address"]).json()
    assert (told["state"], told["records"], told["handed_over"]) == ("ready", 1, False)
    file = made.post(f"{begun['address']}take-out/", {}).getvalue()
    assert f"sha256:{sha256(file).hexdigest()}" == told["digest"]
    (answer,) = made.get(f"{where}handed-over/").json()["items"]
    assert (answer["digest"], answer["to"]) == (told["digest"], "M. Reyes")
    assert made.get(begun["address"]).json()["handed_over"]
    made.post(f"{where}close/", {"why": "settled"}, Idempotency_Key="k2")
    assert made.post(f"{where}bundles/", BUNDLE, Idempotency_Key="k3").status_code == 409


def test_a_bundle_for_what_nothing_fits_is_made_in_the_same_way(made, signed, colleague):  # noqa: F811
    asked = ASKED | {"received_at": AT, "wanted": {"product": "no such wash"}}
    request = take_request(colleague.firm, colleague.user, asked, None)
    where = reverse("api_bundles", kwargs={"asked": request.pk})
    begun = made.post(where, BUNDLE | {"sheets": ["en"]}, Idempotency_Key="k").json()
    told = made.get(begun["address"]).json()
    assert (told["state"], told["records"], told["of_all"]) == ("ready", 0, 0)
    file = made.post(f"{begun['address']}take-out/", {}).getvalue()
    assert f"sha256:{sha256(file).hexdigest()}" == told["digest"]


def test_where_nothing_was_ever_signed_no_bundle_is_made(made, request_):
    where = reverse("api_bundles", kwargs={"asked": request_.pk})
    assert made.post(where, BUNDLE, Idempotency_Key="k").status_code == 409


def test_findings_leave_the_house_for_an_authority_alone(made, signed, colleague):  # noqa: F811
    asked = ASKED | {"received_at": AT, "asked_by": "insurer"}
    request = take_request(colleague.firm, colleague.user, asked, None)
    where = reverse("api_bundles", kwargs={"asked": request.pk})
    refused = made.post(where, BUNDLE | {"findings": True}, Idempotency_Key="k")
    assert (refused.status_code, Handing.across_firms.count()) == (409, 0)


def test_what_the_rules_said_wants_a_scope_of_its_own(colleague, signed, draft, request_):  # noqa: F811
    said = program(colleague, "read-records", "read-findings")
    made = program(colleague, "read-records", "read-requests", "write-requests")
    found, version = reverse("api_treatments"), reverse("api_version", kwargs={"uuid": signed.pk, "version": 1})
    assert {each["outcome"] for each in said.get(found).json()["items"]} > {""}
    assert {each["outcome"] for each in made.get(found).json()["items"]} == {""}
    assert said.get(version).json()["check"]
    assert not made.get(version).json().get("check")
    asked = {**ASKED, "wanted": {"outcome": "not_met"}}
    bundles = reverse("api_bundles", kwargs={"asked": request_.pk})
    wants = [
        made.post(bundles, BUNDLE | {"findings": True}, Idempotency_Key="2"),
        made.get(found, {"outcome": "not_met"}),
        made.get(found, {"finding": "us-wa/x"}),
        made.post(reverse("api_requests"), asked, Idempotency_Key="1"),
        made.get(reverse("api_sign", kwargs={"uuid": draft.pk})),
    ]
    assert [each.status_code for each in wants] == [403] * 5
    assert [each.json()["scope"] for each in wants] == [*["read-findings"] * 4, "sign-records"]


def test_who_is_signed_in_on_a_page_may_send_a_call_with_a_key(colleague, request_):
    browser = Client(enforce_csrf_checks=True)
    browser.force_login(colleague.user)
    browser.get(reverse("requests"))
    where, key = reverse("api_close_request", kwargs={"asked": request_.pk}), {"Idempotency-Key": "1"}
    form = {"X-CSRFToken": browser.cookies["csrftoken"].value}
    sent = [key, key | form, key | form]
    closed = [browser.post(where, {"why": "x"}, "application/json", headers=each) for each in sent]
    assert [each.status_code for each in closed] == [403, 200, 200]
    assert closed[2]["Idempotent-Replayed"] == "true"


def test_a_page_after_what_has_no_place_in_the_order_is_refused(made, draft):
    answer = made.get(reverse("api_treatments"), {"order": "wind", "after": str(draft.pk)})
    assert (answer.status_code, answer.json()["errors"][0]["pointer"]) == (400, "#/after")
