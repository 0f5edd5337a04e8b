"""A firm is joined by invitation: a link that holds once, for three days, for the owner of the address."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.contrib.auth import authenticate
from django.core import mail
from django.db import IntegrityError, transaction
from django.urls import reverse

from records.models import Membership, User
from records.services.invitations import (
    NotInvitedError,
    accept,
    account_for,
    begin_account,
    invite,
    invited,
    link_of,
)
from shared import clock
from tests.factories import PASSWORD, MembershipFactory, UserFactory

ADDRESS = "new@example.net"


def invitation(firm, user: User, role: str = "crew") -> Membership:
    return MembershipFactory(firm=firm, user=user, role=role, accepted_at=None, person=None)


def token_of(membership: Membership) -> str:
    return link_of(membership).rstrip("/").rpartition("/")[2]


@pytest.fixture
def new(firm) -> Membership:
    return invitation(firm, account_for(ADDRESS, "N. Ewhire"))


def test_nobody_signs_in_to_a_new_account_before_its_owner_has_begun_it(new):
    assert not new.user.has_usable_password()
    assert authenticate(email=ADDRESS, password="") is None


def test_the_invitation_goes_to_the_address_by_mail(new, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        link = invite(new)
    (sent,) = mail.outbox
    assert sent.to == [ADDRESS]
    assert link in sent.body
    assert new.firm.name in sent.subject


def test_a_membership_counts_for_nothing_before_it_is_accepted(new):
    assert new.user.roles == {}
    assert not new.user.counted_memberships().exists()
    begin_account(new.pk, token_of(new), PASSWORD)
    assert User.objects.get(pk=new.user_id).roles == {new.firm_id: "crew"}


def test_an_invitation_holds_once(new):
    token = token_of(new)
    begin_account(new.pk, token, PASSWORD)
    for attempt in (lambda: begin_account(new.pk, token, "another password, long enough"),
                    lambda: accept(new.pk, token, new.user)):
        with pytest.raises(NotInvitedError):
            attempt()
    assert User.objects.get(pk=new.user_id).check_password(PASSWORD)


def test_an_invitation_holds_for_three_days(new):
    token = token_of(new)
    with time_machine.travel(clock.now() + timedelta(days=3) - timedelta(minutes=1), tick=False):
        assert invited(new.pk, token) == new
    with (
        time_machine.travel(clock.now() + timedelta(days=3, minutes=1), tick=False),
        pytest.raises(NotInvitedError),
    ):
        invited(new.pk, token)


def test_a_later_invitation_ends_the_one_before_and_so_does_the_manager(new):
    first = token_of(new)
    invite(new)
    second = token_of(new)
    with pytest.raises(NotInvitedError):
        invited(new.pk, first)
    assert invited(new.pk, second) == new
    new.active = False
    new.save()
    with pytest.raises(NotInvitedError):
        invited(new.pk, second)


def test_a_made_up_link_is_none(new):
    for uuid, token in ((new.pk, "abc-def"), (uuid4(), token_of(new))):
        with pytest.raises(NotInvitedError):
            invited(uuid, token)


def test_a_link_does_not_set_the_password_of_an_account_that_has_one(firm):
    known = invitation(firm, UserFactory())
    with pytest.raises(NotInvitedError):
        begin_account(known.pk, token_of(known), "another password, long enough")
    assert User.objects.get(pk=known.user_id).check_password(PASSWORD)


def test_only_the_owner_of_the_account_accepts(firm, stranger):
    known = invitation(firm, UserFactory())
    with pytest.raises(NotInvitedError):
        accept(known.pk, token_of(known), stranger.user)
    assert accept(known.pk, token_of(known), known.user).accepted_at


def test_who_made_the_account_under_somebody_elses_address_does_not_get_in(client, firm, stranger):
    """A manager of another firm begins the account with the link that is shown to managers; our firm then
    invites the same address: without the link that goes there, that password opens nothing of ours."""
    theirs = invitation(stranger.firm, account_for(ADDRESS, "Made Up"))
    begin_account(theirs.pk, token_of(theirs), PASSWORD)
    ours = invitation(firm, account_for(ADDRESS, "N. Ewhire"), role="manager")
    assert client.login(email=ADDRESS, password=PASSWORD)
    assert client.get(reverse("home")).context["firm"] == stranger.firm
    client.post(reverse("choose_firm"), {"firm": str(firm.pk)})
    assert client.get(reverse("home")).context["firm"] == stranger.firm
    ours.refresh_from_db()
    assert ours.accepted_at is None


def test_an_address_is_one_persons_in_whatever_case_it_is_written(member):
    with pytest.raises(IntegrityError), transaction.atomic():
        User.objects.create(email=member.user.email.upper(), name="A. Second")
    assert User.objects.filter(email__iexact=member.user.email).count() == 1
