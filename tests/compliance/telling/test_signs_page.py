"""The signs that a rule wants at a site, to print, and where they stand."""

from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from tests.factories import MembershipFactory

pytestmark = pytest.mark.django_db
MARKERS = "us-ny/posting/markers"


@pytest.fixture
def crew(client, firm):
    client.force_login(MembershipFactory(firm=firm, role="crew", user__name="C. Rew").user)
    return client


def at(name, lawn, **more):
    return reverse(name, kwargs={"uuid": lawn.pk, **more})


def words(answer) -> str:
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(answer.content)).pages)
    return " ".join(text.split())


def test_a_crew_sees_which_signs_stand_where_and_by_when(crew, lawn):
    """ECL 33-1003 and 6 NYCRR 325.40 as the pack restates them: 12 inches above the ground, 50 feet apart."""
    page = crew.get(at("signs", lawn)).content.decode()
    assert "along the perimeter, at least 12 inches above the ground" in page
    assert "50 ft" in page
    assert "2026" in page.partition("Up by")[2].partition("</dd>")[0]


def test_the_sign_is_printed_in_the_words_of_the_law_whatever_the_language_of_the_sheet(crew, lawn):
    english, spanish = (
        words(crew.get(at("sign_paper", lawn, language=one, rule=MARKERS))) for one in ("en", "es")
    )
    assert "DO NOT REMOVE SIGN FOR 24 HOURS" in english
    assert "DO NOT REMOVE SIGN FOR 24 HOURS" in spanish
    assert english != spanish


def test_the_list_counts_the_signs_along_the_edge_beside_the_ways_in(crew, lawn):
    """240 feet at no more than 50 feet apart are five signs."""
    typed = {"access": "Front gate\n\nBack gate", "edge": "240 ft"}
    said = words(crew.get(at("sign_places", lawn, language="en", rule=MARKERS), typed))
    assert "Front gate" in said
    assert "192 ft" in said
    assert "240 ft along" not in said


def test_a_length_that_is_none_is_said_beside_its_field(crew, lawn):
    answer = crew.get(at("sign_places", lawn, language="en", rule=MARKERS), {"edge": "4 gal"})
    assert answer.status_code == 422
    assert "There is a problem" in answer.content.decode()


@pytest.mark.parametrize("rule", ["us-ny/posting/none", "us-ny/notice/neighbors"])
def test_a_rule_that_asks_for_no_sign_here_has_no_paper(crew, lawn, rule):
    assert crew.get(at("sign_paper", lawn, language="en", rule=rule)).status_code == 404


def test_a_stranger_finds_nothing(client, stranger, lawn):
    client.force_login(stranger.user)
    assert client.get(at("signs", lawn)).status_code == 404


def test_nobody_is_promised_a_spanish_sign_where_the_law_prints_it_in_english(crew, lawn):
    page = crew.get(at("signs", lawn), headers={"accept-language": "es"}).content.decode()
    assert "las palabras de la ley, en inglés" in page
    assert "El letrero (PDF), notas debajo: español" in page
