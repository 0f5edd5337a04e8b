"""Where the signs stand: each access point, and along the edge no farther apart than the rule allows."""

import pytest

from compliance.papers.posting_sign import placement_list, places_of
from compliance.rulebook.kinds.posting import Posting
from shared.quantities import parse
from tests.compliance.papers.drawn import overlaps, pages_of, pieces_of, text_of
from tests.compliance.papers.posting_sign.test_signs import posting_of


def new_york() -> Posting:
    return posting_of("us-ny/posting/markers")[0]


@pytest.mark.parametrize(
    ("perimeter", "count"), [("50 ft", 1), ("50.1 ft", 2), ("340 ft", 7), ("100 m", 7), ("350 ft", 7)]
)
def test_signs_stand_no_more_than_fifty_feet_apart(perimeter: str, count: int) -> None:
    """6 NYCRR 325.40(h), restated: no more than 50 feet apart. 100 m are 328.08 ft, 7 x 50."""
    assert len(places_of(new_york(), (), parse(perimeter, ("length",)), "en")) == count


def test_access_points_come_first_and_by_name() -> None:
    found = places_of(new_york(), ("front walk", "side gate"), parse("100 ft", ("length",)), "en")
    assert found == ("front walk", "side gate", "at 0 ft along the edge", "at 50 ft along the edge")


def test_where_nothing_is_known_there_is_a_line_to_write_on() -> None:
    (only,) = places_of(new_york(), (), None, "en")
    assert set(only) == {"_"}


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_list_is_one_page_with_nothing_cut(language: str) -> None:
    name = "entrada trasera junto al garaje de la señora Etxeberria-Goikoetxea y el portón del jardín"
    pdf = placement_list(new_york(), "4 Heron Row", (name,), parse("340 ft", ("length",)), language)
    (page,) = pages_of(pdf)
    assert overlaps(pieces_of(page)) == []
    assert name in text_of(pdf)
    assert pdf == placement_list(new_york(), "4 Heron Row", (name,), parse("340 ft", ("length",)), language)
