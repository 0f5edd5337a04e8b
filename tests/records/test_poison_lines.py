"""Whom to call, by the country of the site. Numbers as poisonhelp.hrsa.gov, npis.org,
poisonsinfo.health.qld.gov.au, swissinfo.ch and Health Canada's announcement of 2023 give them."""

import pytest

from records.poison_lines import poison_line


@pytest.mark.parametrize(
    ("site", "number", "emergency"),
    [
        ({"address": {"country": "US"}}, "1-800-222-1222", "911"),
        ({"jurisdictions": ["us", "us-wa"]}, "1-800-222-1222", "911"),
        ({"address": {"country": "CA"}}, "1-844-764-7669", "911"),
        ({"address": {"country": "AU"}}, "13 11 26", "000"),
        ({"jurisdictions": ["gb"]}, "111", "999"),
        ({"address": {"country": "CH"}}, "145", "112"),
    ],
)
def test_a_country_with_a_known_line_has_it_and_its_emergency_number(site, number, emergency):
    line = poison_line({"site": site})
    assert (line.number, line.emergency) == (number, emergency)


@pytest.mark.parametrize("site", [{}, {"address": {"country": "DE"}}, {"jurisdictions": []}])
def test_elsewhere_no_number_is_made_up_and_112_is_said(site):
    line = poison_line({"site": site})
    assert (line.number, line.emergency) == ("", "112")


def test_a_number_is_dialled_without_its_spaces_and_dashes():
    assert poison_line({"site": {"address": {"country": "US"}}}).dial == "18002221222"
