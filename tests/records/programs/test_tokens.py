"""A program calls with a token: hashed, for one firm, with scopes, until a day or until it is ended."""

from datetime import timedelta

import pytest
from django.urls import reverse

from records.models import ProgramToken, User
from records.services.programs import TooManyTokensError, end_token, make_token
from shared import clock
from tests.factories import PASSWORD, MembershipFactory
from tests.records.auditing.entries import newest
from tests.records.programs.calling import program


@pytest.fixture
def where(draft) -> str:
    return reverse("api_treatment", kwargs={"uuid": draft.pk})


def test_a_token_opens_what_its_person_may_see_in_its_firm_alone(where, draft, member, stranger):
    MembershipFactory(user=member.user, firm__name="A firm that comes first by name")
    assert program(member).get(where).json()["number"] == draft.number
    assert program(stranger).get(where).status_code == 404


def test_of_a_token_the_database_has_the_digest_alone(member):
    made = program(member)
    values = [str(value) for value in ProgramToken.across_firms.values().get().values()]
    assert made.token not in values
    assert made.token.startswith("tlog_")
    assert not any(made.token[15:] in value for value in values)


def test_a_token_that_is_over_ended_or_none_opens_nothing(where, member):
    made = program(member, days=30)
    with clock.at(clock.now() + timedelta(days=30, seconds=1)):
        late = made.get(where)
    end_token(made.row, member.user)
    made.row.refresh_from_db(from_queryset=ProgramToken.objects.for_firm(member.firm))
    ended = made.get(where)
    made.token = "tlog_" + "0" * 64
    unknown = made.get(where)
    made.token = "señal"
    assert [late.status_code, ended.status_code, unknown.status_code, made.get(where).status_code] == [401] * 4
    assert (late["WWW-Authenticate"], late["Content-Type"]) == ("Bearer", "application/problem+json")


def test_another_password_ends_the_persons_tokens_in_every_firm_and_says_so(client, where, member, colleague):
    second = MembershipFactory(user=User.objects.get(pk=member.user_id))
    made, elsewhere, theirs = program(member), program(second), program(colleague)
    client.force_login(member.user)
    new = "another quite long password"
    typed = {"oldpassword": PASSWORD, "password1": new, "password2": new}
    page = client.post(reverse("account_change_password"), typed, follow=True)
    assert "Programs that worked for you over the API are ended." in page.content.decode()
    assert (made.get(where).status_code, theirs.get(where).status_code) == (401, 200)
    assert elsewhere.get(reverse("api_treatments")).status_code == 401
    assert newest(member.firm, kind="removed").thing == "records.programtoken"


def test_a_membership_that_has_ended_takes_its_tokens_along(where, member):
    made = program(member)
    member.active = False
    member.save()
    assert made.get(where).status_code == 403


def test_a_scope_that_the_token_lacks_is_told(where, draft, member):
    made = program(member, "read-records")
    assert made.get(where).status_code == 200
    refused = made.post(f"{where}edits/", {"edits": []})
    assert (refused.status_code, refused.json()["scope"]) == (403, "write-records")
    assert refused.json()["type"].endswith("#not-in-scope")
    assert made.get(f"{where}check/").json()["scope"] == "read-findings"


def test_a_scope_gives_no_more_than_the_persons_role(where, member):
    member.role = "office"
    member.save()
    assert program(member).get(f"{where}sign/").status_code == 403


def test_what_a_program_reads_stands_in_who_did_what(where, draft, member):
    program(member).get(where)
    assert newest(draft.firm).kind == "viewed"
    assert newest(draft.firm).by_id == member.user.pk


def test_nobody_has_more_than_twenty(member, firm):
    for _ in range(20):
        make_token(firm, member.user, "Books", [], 30)
    with pytest.raises(TooManyTokensError):
        make_token(firm, member.user, "Books", [], 30)


def made_on_page(client, **given):
    body = {"name": "Books", "scopes": ["read-records"], "days": 90, "password": PASSWORD, **given}
    return client.post(reverse("programs"), body)


def test_the_page_makes_a_token_with_the_password_shows_it_once_and_ends_it(client, member, where):
    client.force_login(member.user)
    assert made_on_page(client, password="no").status_code == 422
    assert made_on_page(client, scopes=[]).status_code == 422
    made = made_on_page(client)
    token = made.context["token"]
    assert made.status_code == 201
    assert token in made.content.decode()
    assert token not in client.get(reverse("programs")).content.decode()
    row = ProgramToken.across_firms.get()
    assert (row.scopes, round((row.expiry - row.created).total_seconds() / 86_400)) == (["read-records"], 90)
    assert newest(member.firm, thing="records.programtoken").thing_id == str(row.uuid)
    client.post(reverse("end_program", kwargs={"uuid": row.uuid}))
    client.logout()
    assert client.get(where, headers={"Authorization": f"Bearer {token}"}).status_code == 401


def test_nobody_gives_a_program_more_than_they_may(client, member):
    client.force_login(member.user)
    offered = dict(client.get(reverse("programs")).context["form"].fields["scopes"].choices)
    assert "sign-records" in offered
    assert "read-requests" not in offered
    assert made_on_page(client, scopes=["read-requests"]).status_code == 422


def test_a_manager_sees_and_ends_everybodys_and_a_member_their_own(client, member, colleague):
    made = program(member)
    client.force_login(colleague.user)
    assert made.row.name in client.get(reverse("programs")).content.decode()
    client.post(reverse("end_program", kwargs={"uuid": made.row.uuid}))
    assert ProgramToken.across_firms.get().ended_at
    of_colleague = program(colleague)
    client.force_login(member.user)
    refused = client.post(reverse("end_program", kwargs={"uuid": of_colleague.row.uuid}))
    assert refused.status_code == 404
