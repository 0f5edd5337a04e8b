"""What lies near to what a request asks for."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from compliance.models import RecordsRequest
from compliance.services import request_near
from compliance.services.request_met import Met
from compliance.services.request_near import drafts_of_those_days, missing_papers, near_places
from compliance.services.requests import take_request
from records.models import Treatment
from records.services.corrections import start_correction
from records.services.planning import plan_treatment
from tests.factories import SiteFactory
from tests.project.test_addresses import signed  # noqa: F401 - a fixture

# On the ellipsoid of WGS 84 a minute of latitude at 47.1 degrees north is 1852.9 m, so that a mile is 0.01448
# degrees and a kilometre 0.009 (worked out with GeographicLib's formulas as pyproj has them).
HERE, WITHIN, OUTSIDE = "47.1000", "47.1144", "47.1146"
LONGITUDE = "-122.9000"


@pytest.fixture
def ask(colleague):
    def asked(**wanted) -> RecordsRequest:
        given = {"asked_by": "regulator", "name": "M. Reyes", "means": "letter", "asked_for": "All of them."}
        given |= {"received_at": datetime(2026, 9, 15, 9, 0, tzinfo=UTC), "wanted": wanted}
        return take_request(colleague.firm, colleague.user, given, None)

    return asked


def put(site, latitude: str) -> None:
    site.latitude, site.longitude = latitude, LONGITUDE
    site.save()


@pytest.fixture
def neighbouring(signed, plan, colleague):  # noqa: F811
    """Two signed-looking treatments: one just within a mile of the signed one, one just outside."""
    put(signed.site, HERE)
    found = []
    for latitude in (WITHIN, OUTSIDE):
        site = SiteFactory(
            firm=plan.site.firm, name="Shed, 1 Gull Street", line1="1 Gull Street", customer__name="B. Lark"
        )
        put(site, latitude)
        made = plan_treatment(site.firm, colleague.user, replace(plan, site=site, surfaces=[]))
        Treatment.objects.for_firm(site.firm).filter(pk=made.pk).update(state="signed")
        found.append(made)
    return found


def near_matches(request) -> list[Treatment] | None:
    """The treatments at the places that are near."""
    found = near_places(Met(request))
    if found is None:
        return None
    return [row for each in found for row in Treatment.across_firms.filter(site=each.site)[: each.records]]


def test_what_lies_within_a_mile_of_the_place_is_near_and_the_place_itself_is_not(signed, neighbouring, ask):  # noqa: F811
    assert list(near_matches(ask(site="heron row"))) == [neighbouring[0]]
    assert list(near_matches(ask(customer="marlowe"))) == [neighbouring[0]]
    assert list(near_matches(ask(site="heron row", day_from="2027-01-01"))) == []
    assert list(near_matches(ask(site="heron row", product="no such"))) == []


def test_a_place_is_near_to_one_that_is_called_so_now_whatever_its_accents(signed, neighbouring, ask):  # noqa: F811
    signed.site.name = "Casa Núñez"
    signed.site.save()
    assert list(near_matches(ask(site="casa nunez"))) == [signed, neighbouring[0]]
    assert near_matches(ask(site="casa nunez", customer="nobody")) is None


def test_the_nearest_place_stands_first_with_how_far_it_is(signed, neighbouring, ask):  # noqa: F811
    nearer = neighbouring[1].site
    put(nearer, "47.1090")
    found = near_places(Met(ask(site="heron row")))
    assert [(each.site, each.records) for each in found] == [(nearer, 1), (neighbouring[0].site, 1)]
    assert [round(each.metres, -1) for each in found] == [1000, 1600]


def test_without_a_place_or_its_position_nothing_is_near(signed, ask):  # noqa: F811
    assert near_matches(ask(product="moss")) is None
    assert near_matches(ask(site="heron row")) is None


def test_a_place_where_nothing_was_done_is_looked_around_too(neighbouring, firm, ask):
    put(SiteFactory(firm=firm, name="Barn", line1="77 Plover Lane"), WITHIN)
    assert set(near_matches(ask(site="plover"))) > {neighbouring[0]}


def test_another_firms_places_are_not_near(signed, neighbouring, stranger, ask):  # noqa: F811
    for each in neighbouring:
        Treatment.across_firms.filter(pk=each.pk).update(firm=stranger.firm)
    assert list(near_matches(ask(site="heron row"))) == []


def test_a_draft_of_those_days_that_is_not_filled_in_is_pointed_at(draft, ask):
    day = draft.day.isoformat()
    assert list(drafts_of_those_days(Met(ask(product="no such", day_from=day, day_to=day)))) == [draft.pk]
    fits = drafts_of_those_days(Met(ask(product="moss", day_from=day)))
    assert fits == [], "it fits, and is told as such"
    assert list(drafts_of_those_days(Met(ask(day_to="2020-01-01")))) == []
    assert drafts_of_those_days(Met(ask(product="moss"))) is None


def test_missing_papers_are_those_of_the_version_that_holds(signed, colleague, ask):  # noqa: F811
    (copy,) = [each for each in missing_papers(Met(ask(product="moss"))) if each.kind == "copy"]
    assert copy.treatments == [signed]
    kinds = [each.kind for each in missing_papers(Met(ask(product="moss")))]
    draft = start_correction(signed, colleague.user, "the lot was misread")
    draft.document["mixes"][0]["products"][0]["label"] = None
    draft.save()
    assert [each.kind for each in missing_papers(Met(ask(product="moss")))] == kinds


def test_so_many_records_are_looked_at_and_no_more(signed, ask, monkeypatch):  # noqa: F811
    monkeypatch.setattr(request_near, "LOOKED_AT", 0)
    assert missing_papers(Met(ask(product="moss"))) == []
