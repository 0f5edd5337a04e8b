"""Every address, walked by nobody, by a member and by a stranger of another firm."""

from collections.abc import Iterator

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from compliance.pack_reader import registered_packs
from compliance.services.signing import prepare, sign_treatment
from records.document.edits import Edit
from records.models import Lot, Treatment
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.services.to_sign import Signer
from tests.compliance.own import CALM, use_own
from tests.factories import PASSWORD, UserFactory

OPEN_TO_ALL = {"health", "favicon", "set_language", "invitation", "service_worker", "manifest"}
OPEN_TO_ALL |= {"no_answer", "not_kept", "proof", "proof_file", "told", "handed"}
ONLY_POSTED = ("api_edits", "row_changes", "choose_firm", "photos", "remove_photo", "seal", "end_device")
ONLY_POSTED += ("look_at_seal", "look_at_log", "look_at_alert", "notice_deed", "notice_task_done")
ONLY_POSTED += ("print_papers", "remove_view", "wanted_again", "end_program", "handing_link")
ONLY_POSTED += ("api_moves", "api_close_request", "take_incident", "api_take_out")
NOT_OURS = ("account_", "mfa_")
DIGEST = next(pack.digest for pack in registered_packs() if pack.id == "us-wa")


@pytest.fixture
def signed(plan, member) -> Treatment:
    treatment = plan_treatment(plan.site.firm, member.user, plan)
    findings = prepare(treatment, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(treatment, member.user, PASSWORD, answers)
    return treatment


def patterns(resolver: URLResolver) -> Iterator[URLPattern]:
    for each in resolver.url_patterns:
        if isinstance(each, URLResolver):
            if each.app_name != "admin":
                yield from patterns(each)
        else:
            yield each


def our_names() -> list[str]:
    names = {each.name for each in patterns(get_resolver()) if each.name}
    return sorted(name for name in names if not name.startswith(NOT_OURS))


def address(name: str, signed: Treatment, draft: Treatment) -> str:
    """The address of this name for our firm: of the draft where it is worked on, of the signed one else."""
    of_draft = ("section", "sign", "sheet", "seal", "stand_down", "row_changes")
    of_draft += ("api_treatment", "api_edits", "api_check", "api_sign", "prepare_notices")
    uuid = (draft if name in of_draft else signed).pk
    arguments = {"uuid": uuid, "site": draft.site_id, "section": "mix", "version": 1, "language": "en"}
    arguments |= {"pack": "us-wa", "question": "us-wa/question/structural-application"}
    arguments |= {"kind": "limit", "key": 1, "token": "none-at-all", "digest": DIGEST.removeprefix("sha256:")}
    arguments |= {"sha256": "ab" * 32, "row": uuid, "file": uuid, "notice": signed.pk, "place": 0}
    lot = Lot.objects.for_firm(draft.firm).first()
    arguments |= {"lot": lot.pk if lot else uuid, "move": uuid}
    arguments |= {"rule": "us-wa/posting", "when": "after", "view": signed.pk, "asked": signed.pk}
    arguments |= {"hook": signed.pk, "bundle": signed.pk}
    arguments |= {"form": "us-wa-application-record"}
    arguments |= {"handing": signed.pk, "name": "index.pdf"}
    arguments |= {"duty": "own:summary", "period": "2026", "table": "asked", "line": 0, "filed": signed.pk}
    arguments |= {"incident": signed.pk}
    wanted = get_resolver().reverse_dict[name][0][0][1]
    return reverse(name, kwargs={key: arguments[key] for key in wanted})


def test_nobody_who_is_not_signed_in_sees_anything(db, draft, signed):
    answers = {name: Client().get(address(name, signed, draft), follow=False) for name in our_names()}
    assert {name: answer for name, answer in answers.items() if not shows_nothing(name, answer, signed)} == {}


def shows_nothing(name: str, answer: HttpResponse, signed: Treatment) -> bool:
    if name in OPEN_TO_ALL:
        return answer.status_code in (200, 302, 404, 405, 410)
    if name == "address_on_paper":
        return answer["Location"] == reverse("treatment", kwargs={"uuid": signed.pk})
    if name.startswith("api_"):
        return answer.status_code in (401, 403)
    return answer.headers.get("Location", "").startswith(reverse("account_login"))


OF_A_SITE = ("plan", "neighbours", "new_neighbour", "new_occupant", "send_people")
OF_A_FIRM = [
    name
    for name in our_names()
    if name not in OPEN_TO_ALL and ("uuid" in str(get_resolver().reverse_dict[name]) or name in OF_A_SITE)
]


def test_a_stranger_gets_404_for_what_is_ours(client, draft, signed, stranger):
    client.force_login(stranger.user)
    found = {}
    for name in OF_A_FIRM:
        if name != "address_on_paper":
            where = address(name, signed, draft)
            read, sent = client.get(where).status_code, client.post(where, {}, "application/json").status_code
            if not {read, sent} <= {404, 405} or (read != 404 and name not in ONLY_POSTED):
                found[name] = (read, sent)
    assert found == {}


def test_a_stranger_sees_nothing_of_ours_in_lists(client, draft, signed, stranger):
    client.force_login(stranger.user)
    for name in ("home", "register", "plan_site"):
        page = client.get(reverse(name)).content.decode()
        assert draft.number not in page
        assert "Heron Row" not in page


@pytest.mark.parametrize("role", ["office", "inspector"])
def test_who_may_not_sign_is_refused(client, draft, role, member):
    member.role = role
    member.save()
    client.force_login(member.user)
    assert client.get(reverse("sign", kwargs={"uuid": draft.pk})).status_code == 403


IN_THE_HOUSE = ("check_sheet", "comparison", "notices", "prepare_notices")
OF_NO_RECORD = ("api_treatment", "api_check", "api_sign", "photo", "version_changes")


def test_an_inspector_reads_records_and_changes_nothing(client, draft, signed, member):
    use_own(draft.firm, CALM)
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    refused = ("plan_site", "plan", "section", "sign", "stand_down", "correct", "void", "follow_up")
    refused += ("photo_original", "to_keep", "roadside", "own_rule", "new_own_rule", "what_if", "take_into_use")
    refused += ("sheet", "devices", "choices", "tanks", "hold", "lift_hold", "keeping", "audit", "audit_file")
    refused += ("neighbours", "new_neighbour", "neighbour", "new_occupant", "occupant", "send_people")
    refused += ("people_file", "registers", "send_register")
    refused += ("way_out", "way_out_file")
    refused += ("bring_in", "arrival", "arrival_original", "arrival_faults")
    refused += ("hand_over", "hand_over_one", "log", "new_key", "declaration")
    refused += ("requests", "new_request", "request", "answer_request", "request_on_form", "handing")
    refused += ("look_at_handing", "mend_request", "before_answering")
    refused += ("desk", "reports", "report", "report_behind", "report_paper", "report_csv", "filed_report")
    refused += ("filed_behind", "filed_paper", "filed_csv")
    refused += ("stock", "stock_delivery", "stock_lot", "stock_ledger", "stock_recall", "stock_recall_file")
    refused += ("stock_take_back", "stock_explain")
    refused += ("incidents", "incident_now", "incident", "incident_facts", "incident_told", "incident_report")
    refused += ("week_of_notices", "notices_sent", "notice_file", "customer_paper", "send_copy", "own_words")
    refused += ("signs", "sign_paper", "sign_places", "print_waiting", "look_at_week", "not_wanted")
    refused += ("api_requests", "api_request", "api_matches", "api_bundles", "api_findings", "api_notices")
    refused += ("api_bundle", "api_handed_over")
    refused += ("hooks", "hook", "api_stock", "api_sites", "api_people", "api_products", "api_rigs")
    elsewhere = (*ONLY_POSTED, *OPEN_TO_ALL, "address_on_paper")
    for name in our_names():
        if name in elsewhere:
            continue
        status = client.get(address(name, signed, draft)).status_code
        expected = 404 if name in OF_NO_RECORD else 403 if name in refused + IN_THE_HOUSE else 200
        assert status == expected, name


def test_an_inspector_sees_what_is_signed_and_no_draft_nor_finding(client, draft, signed, member, colleague):
    """A check stays in the house; a record and its sheet state facts and leave it."""
    start_correction(signed, colleague.user, "the lot was misread")
    edits = [Edit("n", "notes", "not signed yet", signed.revision + 1)]
    edit_draft(Treatment.objects.for_firm(member.firm).get(pk=signed.pk), edits, colleague.user)
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    record = client.get(reverse("treatment", kwargs={"uuid": signed.pk}))
    assert record.status_code == 200
    for page in (record, client.get(reverse("api_treatment", kwargs={"uuid": signed.pk}))):
        assert "not signed yet" not in page.content.decode()
    assert "What the rules said" not in record.content.decode()
    assert "as it was" not in record.content.decode()
    listed = client.get(reverse("register")).content.decode()
    assert signed.number in listed
    assert draft.number not in listed
    assert "Not met" not in listed
    file = client.get(reverse("record_file", kwargs={"uuid": signed.pk, "version": 1})).json()
    assert "check" not in file
    for name in ("treatment", "api_treatment", "api_check"):
        assert client.get(reverse(name, kwargs={"uuid": draft.pk})).status_code == 404


@pytest.mark.parametrize("name", ["treatment", "register", "record_sheet", "record_file", "api_treatment"])
def test_what_is_a_firms_is_kept_in_no_cache(client, signed, draft, member, name):
    client.force_login(member.user)
    assert client.get(address(name, signed, draft)).headers["Cache-Control"] == "private, no-store"


def test_a_user_without_a_firm_is_told_so(client, db, draft):
    client.force_login(UserFactory())
    assert client.get(reverse("home")).status_code == 403


def test_a_browser_finds_an_icon_where_it_looks_for_one(client):
    answer = client.get("/favicon.ico")
    assert answer.status_code == 302
    assert answer["Location"].endswith(".svg")


def test_a_wrong_host_is_refused_with_a_page(client):
    answer = client.get("/", headers={"Host": "evil.example"})
    assert answer.status_code == 400
    assert "<h1>" in answer.content.decode()
