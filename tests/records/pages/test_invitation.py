"""The pages on which an invitation is accepted, and on which a member of several firms chooses one."""

import re

import pytest
from allauth.account.models import EmailAddress
from django.core import mail
from django.urls import reverse

from records.models import Membership, User
from records.services.invitations import account_for, link_of
from tests.factories import PASSWORD, MembershipFactory, UserFactory

ADDRESS = "new@example.net"


def path_of(membership: Membership) -> str:
    return "/" + link_of(membership).partition("//")[2].partition("/")[2]


def invitation(firm, user: User) -> Membership:
    return MembershipFactory(firm=firm, user=user, accepted_at=None, person=None)


@pytest.fixture
def add_member(client, colleague):
    def add(email: str, **more: str) -> str:
        client.force_login(colleague.user)
        form = {"email": email, "name": "N. Ewhire", "role": "crew", "active": "on", **more}
        return client.post(reverse("admin:records_membership_add"), form, follow=True).content.decode()

    return add


def test_a_manager_invites_an_address_and_sees_the_link_once(
    client, firm, add_member, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        page = add_member(ADDRESS)
    membership = Membership.objects.for_firm(firm).get(user__email=ADDRESS)
    link = re.search(r"http://[^\s<]+/invitations/[^\s<]+", page)[0]
    assert link in mail.outbox[0].body
    assert str(membership.pk) in link
    again = client.get(reverse("admin:records_membership_change", args=[membership.pk])).content.decode()
    assert "/invitations/" not in again
    assert "assword" not in client.get(reverse("admin:records_membership_add")).content.decode().partition(
        "<form id="
    )[2]


def test_the_manager_learns_no_name_from_an_address_and_changes_none(client, firm, add_member):
    known = UserFactory(email=ADDRESS, name="Well Known")
    page = add_member(ADDRESS, name="Another Name")
    page += client.get(reverse("admin:records_membership_changelist")).content.decode()
    assert "Well Known" not in page
    known.refresh_from_db()
    assert known.name == "Well Known"


def test_a_new_account_sets_its_password_and_is_in(client, firm):
    membership = invitation(firm, account_for(ADDRESS, "N. Ewhire"))
    path = path_of(membership)
    assert firm.name in client.get(path).content.decode()
    short = client.post(path, {"new_password1": "short", "new_password2": "short"})
    assert short.status_code == 422
    answer = client.post(path, {"new_password1": PASSWORD, "new_password2": PASSWORD}, follow=True)
    assert "Sign in with it." in answer.content.decode()
    assert client.login(email=ADDRESS, password=PASSWORD)
    assert client.get(reverse("home")).context["firm"] == firm
    client.logout()
    assert client.get(path).status_code == 410


def test_an_account_that_is_there_signs_in_and_accepts(client, firm, stranger):
    membership = invitation(firm, stranger.user)
    path = path_of(membership)
    assert client.get(path)["Location"].startswith(reverse("account_login"))
    client.force_login(stranger.user)
    assert client.get(reverse("home")).context["firm"] == stranger.firm
    assert "Join this firm" in client.get(path).content.decode()
    client.post(path)
    assert client.get(reverse("home")).context["firm"] == firm


def test_an_invitation_nobody_asked_for_takes_nothing_away(client, draft, member, stranger):
    """Another firm's manager enters our member; before, that firm's pages stood in the place of ours."""
    invitation(stranger.firm, member.user)
    client.force_login(member.user)
    assert client.get(reverse("home")).context["firm"] == member.firm
    assert client.get(reverse("treatment", kwargs={"uuid": draft.pk})).status_code == 200


def test_signed_in_as_another_the_link_does_nothing(client, firm, stranger):
    membership = invitation(firm, UserFactory())
    client.force_login(stranger.user)
    for ask in (client.get, client.post):
        assert ask(path_of(membership)).status_code == 403
    membership.refresh_from_db()
    assert membership.accepted_at is None


def test_a_member_of_two_firms_chooses_and_stays(client, draft, member, stranger):
    MembershipFactory(firm=stranger.firm, user=member.user, role="manager", person=None)
    client.force_login(member.user)
    text = client.get(reverse("account")).content.decode()
    assert member.firm.name in text
    assert stranger.firm.name in text
    client.post(reverse("choose_firm"), {"firm": str(stranger.firm_id)})
    assert client.get(reverse("home")).context["firm"] == stranger.firm
    assert client.get(reverse("treatment", kwargs={"uuid": draft.pk})).status_code == 404
    assert client.get(reverse("api_treatment", kwargs={"uuid": draft.pk})).status_code == 404
    assert client.get(reverse("admin:records_site_changelist")).status_code == 200
    client.post(reverse("choose_firm"), {"firm": str(member.firm_id)})
    assert client.get(reverse("treatment", kwargs={"uuid": draft.pk})).status_code == 200
    assert client.get(reverse("admin:records_site_changelist")).status_code == 403


@pytest.mark.parametrize("firm_id", ["", "x", "00000000-0000-0000-0000-000000000000", "of a stranger"])
def test_nobody_chooses_a_firm_that_is_not_theirs(client, member, stranger, firm_id):
    client.force_login(member.user)
    wanted = str(stranger.firm_id) if firm_id == "of a stranger" else firm_id
    assert client.post(reverse("choose_firm"), {"firm": wanted}).status_code == 404


def test_who_is_in_one_firm_sees_no_choice(client, member):
    client.force_login(member.user)
    assert "Your firms" not in client.get(reverse("account")).content.decode()


def test_an_account_has_no_other_address(client, member):
    client.force_login(member.user)
    where = reverse("account_email")
    assert client.get(where).status_code == 404
    assert client.post(where, {"action_add": "", "email": "boss@example.net"}).status_code == 404


def test_an_address_that_was_added_and_never_confirmed_signs_nobody_in(client, member):
    EmailAddress.objects.create(user=member.user, email="boss@example.net", verified=False, primary=False)
    assert not client.login(email="boss@example.net", password=PASSWORD)
    client.post(reverse("account_login"), {"login": "boss@example.net", "password": PASSWORD})
    assert "_auth_user_id" not in client.session
    client.post(reverse("account_login"), {"login": member.user.email, "password": PASSWORD})
    assert "_auth_user_id" in client.session
