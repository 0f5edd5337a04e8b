"""The page on which the office sets the firm's own words for notices."""

import pytest
from django.urls import reverse

from compliance.services.notice_words import own_words_of
from tests.compliance.telling.test_round import pieces
from tests.factories import MembershipFactory

pytestmark = pytest.mark.django_db
WHERE = "own_words"
BOTH = {"en": "We park on the street.", "es": "Estacionamos en la calle."}


@pytest.fixture
def desk(client, office):
    client.force_login(office.user)
    return client


def test_what_is_kept_stands_on_new_notices_in_its_language(desk, lawn, neighbours):
    desk.post(reverse(WHERE), BOTH)
    (wren,) = pieces(lawn, "C. Wren")
    assert all(words in wren.text for words in BOTH.values())


def test_an_empty_text_takes_it_away(desk, office):
    desk.post(reverse(WHERE), BOTH)
    desk.post(reverse(WHERE), {"en": "", "es": BOTH["es"]})
    assert own_words_of(office.firm) == {"es": BOTH["es"]}


def test_a_promise_of_safety_is_said_beside_its_field_and_nothing_is_kept(desk, office):
    answer = desk.post(reverse(WHERE), {"en": BOTH["en"], "es": "Es un producto seguro."})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Leave out what promises" in page
    assert "Es un producto seguro." in page
    assert own_words_of(office.firm) == {}


def test_a_crew_sets_no_words_and_finds_no_link(client, firm):
    client.force_login(MembershipFactory(firm=firm, role="crew").user)
    assert client.post(reverse(WHERE), BOTH).status_code == 403
    assert reverse(WHERE) not in client.get(reverse("account")).content.decode()
    assert own_words_of(firm) == {}


def test_the_office_finds_it_from_the_account(desk):
    assert reverse(WHERE) in desk.get(reverse("account")).content.decode()
