"""Two tabs of one hand-over make one bundle; what differs, or is asked for later, makes another."""

from datetime import timedelta

import pytest
from django.urls import reverse

from compliance.models import Handing
from compliance.services.handings_alike import JUST_NOW
from records.services.corrections import start_correction
from shared import clock
from tests.compliance.pages.test_handings import GIVEN, made, where
from tests.compliance.pages.test_requests import NOW, manager, taken  # noqa: F401 - a fixture
from tests.project.test_addresses import signed  # noqa: F401 - a fixture
from tests.records.logged import sign_now

SAID = "this is that file and no second one was begun"


def key_of_a_tab(manager, asked) -> str:  # noqa: F811
    return manager.get(reverse("answer_request", kwargs={"asked": asked.pk})).context["key"]


@pytest.mark.parametrize("state", ["waiting", "making", "ready"])
def test_two_tabs_of_one_hand_over_make_one_bundle_and_the_second_says_so(manager, signed, state):  # noqa: F811
    asked = taken(manager)
    first = made(manager, asked, key=key_of_a_tab(manager, asked))
    assert SAID not in manager.get(where(first)).content.decode()
    Handing.across_firms.update(state=state)
    assert made(manager, asked, key=key_of_a_tab(manager, asked)) == first
    assert SAID in manager.get(where(first)).content.decode()
    assert Handing.across_firms.count() == 1


@pytest.mark.parametrize(
    "other",
    [{"how": "on a stick"}, {"withheld": []}, {"photos": "named"}, {"sheets": ["es"]}, {"language": "es"}],
)
def test_with_something_else_in_it_it_is_another(manager, signed, other):  # noqa: F811
    asked = taken(manager)
    assert made(manager, asked) != made(manager, asked, **other)


def test_who_wants_a_second_one_later_gets_it(manager, signed):  # noqa: F811
    asked = taken(manager)
    first = made(manager, asked)
    with clock.at(NOW + JUST_NOW - timedelta(seconds=1)):
        assert made(manager, asked) == first
    with clock.at(NOW + JUST_NOW + timedelta(seconds=1)):
        assert made(manager, asked) != first


@pytest.mark.parametrize("state", ["failed", "gone"])
def test_for_one_that_failed_or_was_dropped_another_is_made(manager, signed, state):  # noqa: F811
    asked = taken(manager)
    first = made(manager, asked)
    Handing.across_firms.update(state=state)
    assert made(manager, asked) != first


def test_for_one_that_was_taken_out_another_is_made_that_follows_it(manager, signed):  # noqa: F811
    asked = taken(manager)
    first = made(manager, asked)
    manager.post(where(first), {"take": "yes"}).getvalue()
    assert made(manager, asked).since == first


def test_one_without_what_was_signed_since_is_not_the_same(manager, signed, colleague):  # noqa: F811
    asked = taken(manager)
    first = made(manager, asked)
    sign_now(start_correction(signed, colleague.user, "the lot was misread"), colleague)
    assert made(manager, asked) != first


def test_what_somebody_else_asks_for_is_theirs(client, manager, signed, colleague, member):  # noqa: F811
    asked = taken(manager)
    first = made(manager, asked)
    member.role = "manager"
    member.save()
    client.force_login(member.user)
    client.post(reverse("answer_request", kwargs={"asked": asked.pk}), GIVEN)
    assert Handing.across_firms.exclude(pk=first.pk).get().by == member.user
