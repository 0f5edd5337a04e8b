"""One cell as a value: days, times, amounts, wind and words as people write them."""

from datetime import date, time

import pytest

from records.arriving.days import read_day, read_times
from records.arriving.exact import Exact
from records.arriving.kinds import member_of
from records.arriving.reading import Asked, read_member
from records.imports.faults import FileError
from shared.quantities import Quantity

APRIL = date(2025, 4, 3)


def read(member: str, text: str, kind: str = "treatments", **asked):
    return read_member(member_of(kind, member), text, Asked(**asked))


def fault(member: str, text: str, kind: str = "treatments", **asked) -> str:
    with pytest.raises(FileError) as caught:
        read(member, text, kind, **asked)
    return caught.value.faults[0].wording_id


@pytest.mark.parametrize(
    "text",
    [
        "2025-04-03",
        "4/3/2025",
        "04/03/25",
        "4-3-2025",
        "Apr 3, 2025",
        "April 3 2025",
        "3 April 2025",
        "3rd Apr 2025",
        "Thu, Apr 3, 2025",
        "3 de abril de 2025",
        "2025-04-03T09:15:00",
    ],
)
def test_a_day_is_read_in_many_ways(text):
    assert read_day(text, "mdy") == APRIL


def test_the_order_that_was_said_counts():
    assert read_day("03/04/2025", "dmy") == APRIL
    assert read_day("03/04/2025", "mdy") == date(2025, 3, 4)


@pytest.mark.parametrize(
    ("text", "order", "wrong"),
    [
        ("31/02/2025", "dmy", "no_such_day"),
        ("2/31/2025", "mdy", "no_such_day"),
        ("13/04/2025", "mdy", "no_such_day"),
        ("0/0/2025", "mdy", "no_such_day"),
        ("45000", "mdy", "no_day"),
        ("last week", "mdy", "no_day"),
    ],
)
def test_a_day_that_is_none_is_told(text, order, wrong):
    assert fault("day", text, date_order=order) == wrong


@pytest.mark.parametrize(
    ("text", "times"),
    [
        ("9:15", [time(9, 15)]),
        ("9:15 AM", [time(9, 15)]),
        ("2:05pm", [time(14, 5)]),
        ("0915", [time(9, 15)]),
        ("12:10 am", [time(0, 10)]),
        ("9 am", [time(9)]),
        ("09:15:00", [time(9, 15)]),
        ("2:05 p. m.", [time(14, 5)]),
        ("9:15-9:50", [time(9, 15), time(9, 50)]),
        ("1-2:30 pm", [time(13), time(14, 30)]),
    ],
)
def test_a_time_or_a_span_of_times_is_read(text, times):
    assert read_times(text) == times


@pytest.mark.parametrize("text", ["25:00", "9:75", "13:00 pm", "morning", "9"])
def test_a_time_that_is_none_is_told(text):
    assert fault("started", text) == "no_time"


@pytest.mark.parametrize(
    ("text", "asked", "read_as"),
    [
        ("1.5 gal", {}, Quantity("1.5", "gal")),
        ("1.5", {"units": {"amount": "qt"}}, Quantity("1.5", "qt")),
        ("1,5", {"units": {"amount": "L"}}, Quantity("1.5", "L")),
        ("12 oz", {"ounces": "fl_oz"}, Quantity("12", "fl_oz")),
        ("12 oz", {"ounces": "oz"}, Quantity("12", "oz")),
        ("12 fl oz", {"ounces": "oz"}, Quantity("12", "fl_oz")),
        ("1,200 mL", {"decimal": "point"}, Quantity("1200", "mL")),
        ("1,200 mL", {"decimal": "comma"}, Quantity("1.200", "mL")),
        ("1.200,5 mL", {"decimal": "comma"}, Quantity("1200.5", "mL")),
    ],
)
def test_an_amount_is_read_with_its_unit(text, asked, read_as):
    assert read("amount", text, **asked) == read_as


def test_a_number_of_a_workbook_means_what_it_is():
    units = {"units": {"treated": "ft**2"}, "decimal": "comma"}
    assert read("treated", Exact("1.234"), **units) == Quantity("1.234", "ft**2")


@pytest.mark.parametrize(
    "text", ["5 gallons per nothing", "5 gal/", "five", "1.2.3 gal", "5 feet", "1,200 gal"]
)
def test_an_amount_that_is_none_is_told(text):
    assert fault("amount", text) == "quantity"


def test_less_than_nothing_is_told_and_below_freezing_is_not():
    assert fault("amount", "-5 gal") == "negative"
    assert read("temperature", "-5 °C") == Quantity("-5", "degC")


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        (
            "SW 5 mph",
            {"wind_from": {"value": "225", "unit": "degree"}, "wind_speed": {"value": "5", "unit": "mph"}},
        ),
        (
            "5 mph SW",
            {"wind_from": {"value": "225", "unit": "degree"}, "wind_speed": {"value": "5", "unit": "mph"}},
        ),
        (
            "SW@5",
            {"wind_from": {"value": "225", "unit": "degree"}, "wind_speed": {"value": "5", "unit": "mph"}},
        ),
        (
            "SO 8 km/h",
            {"wind_from": {"value": "225", "unit": "degree"}, "wind_speed": {"value": "8", "unit": "km/h"}},
        ),
        ("calm", {"calm": True}),
        ("0", {"calm": True}),
        ("0 mph", {"calm": True}),
        ("3-5 mph", {"said": "3-5 mph", "wind_speed": {"value": "5", "unit": "mph"}}),
        ("7", {"wind_speed": {"value": "7", "unit": "mph"}}),
    ],
)
def test_the_wind_is_read_with_where_it_is_from(text, reading):
    assert read("wind", text, units={"wind": "mph"}) == reading


@pytest.mark.parametrize("text", ["breezy", "5 gal", "SW fast"])
def test_a_wind_that_is_none_is_told(text):
    assert fault("wind", text, units={"wind": "mph"}) == "quantity"


@pytest.mark.parametrize(
    ("member", "text", "value"),
    [
        ("surface_kind", "Driveway", "drive"),
        ("surface_kind", "siding", "wall"),
        ("sky", "sunny", "clear"),
        ("target", "Moss & algae", ["moss", "algae"]),
        ("target", "musgo, verdín", ["moss", "algae"]),
        ("applicator", "R. Osei / J. Quill", ["R. Osei", "J. Quill"]),
        ("humidity", "70%", "70"),
        ("wind_from", "north-west", {"wind_from": {"value": "315", "unit": "degree"}}),
        ("wind_from", "200°", {"wind_from": {"value": "200", "unit": "degree"}}),
    ],
)
def test_words_of_the_trade_are_known(member, text, value):
    assert read(member, text) == value


@pytest.mark.parametrize(
    ("member", "text", "wrong"),
    [
        ("surface_kind", "moon", "word"),
        ("customer", "=HYPERLINK(1)", "formula"),
        ("customer", "#REF!", "error_cell"),
        ("customer", "JosÃ© Quill", "garbled"),
        ("customer", "x" * 201, "too_long"),
        ("humidity", "700%", "number"),
        ("wind_from", "up", "direction"),
        ("customer", "a\x07b", "control"),
    ],
)
def test_a_cell_that_can_t_be_read_is_told(member, text, wrong):
    assert fault(member, text) == wrong


def test_an_authority_is_a_state_or_a_place():
    assert read("authority", "Washington", "licences") == read("authority", "us-wa", "licences") == "us-wa"
    assert fault("authority", "the county", "licences") == "place"
