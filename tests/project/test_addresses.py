"""Every address, walked by nobody, by a member and by a stranger of another firm."""

from collections.abc import Iterator

import pytest
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from compliance.services.signing import prepare, sign_treatment
from records.models import Treatment
from records.services.planning import plan_treatment
from records.services.to_sign import Signer
from tests.factories import PASSWORD, UserFactory

OPEN_TO_ALL = {"health", "set_language"}
NOT_OURS = ("account_", "mfa_")


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
    of_draft = ("section", "sign", "stand_down", "api_treatment", "api_edits", "api_check", "api_sign")
    uuid = (draft if name in of_draft else signed).pk
    arguments = {"uuid": uuid, "site": draft.site_id, "section": "mix", "version": 1, "language": "en"}
    arguments |= {"pack": "us-wa", "question": "us-wa/question/structural-application"}
    wanted = get_resolver().reverse_dict[name][0][0][1]
    return reverse(name, kwargs={key: arguments[key] for key in wanted})


@pytest.mark.parametrize("name", our_names())
def test_nobody_who_is_not_signed_in_sees_anything(client, draft, signed, name):
    answer = client.get(address(name, signed, draft), follow=False)
    if name in OPEN_TO_ALL:
        assert answer.status_code in (200, 302, 405)
    elif name == "address_on_paper":
        assert answer["Location"] == reverse("treatment", kwargs={"uuid": signed.pk})
    elif name.startswith("api_"):
        assert answer.status_code in (401, 403)
    else:
        assert answer["Location"].startswith(reverse("account_login"))


OF_A_FIRM = [
    name for name in our_names() if "uuid" in str(get_resolver().reverse_dict[name]) or name == "plan"
]


@pytest.mark.parametrize("name", [name for name in OF_A_FIRM if name not in ("address_on_paper",)])
def test_a_stranger_gets_404_for_what_is_ours(client, draft, signed, stranger, name):
    client.force_login(stranger.user)
    where = address(name, signed, draft)
    assert {client.get(where).status_code, client.post(where, {}, "application/json").status_code} <= {
        404,
        405,
    }
    assert client.get(where).status_code == 404 or name in ("api_edits", "api_sign")


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


def test_an_inspector_reads_and_changes_nothing(client, draft, signed, member):
    member.role = "inspector"
    member.save()
    client.force_login(member.user)
    refused = ("plan_site", "plan", "section", "sign", "stand_down", "correct", "void", "follow_up")
    for name in our_names():
        if name in ("api_edits", "api_sign", "set_language", "address_on_paper"):
            continue
        status = client.get(address(name, signed, draft)).status_code
        assert status == (403 if name in refused else 200), name


def test_a_user_without_a_firm_is_told_so(client, db, draft):
    client.force_login(UserFactory())
    assert client.get(reverse("home")).status_code == 403
