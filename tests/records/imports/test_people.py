"""Lists of people: columns by their names in two languages, and every cell that is wrong told at once."""

import pytest

from records.imports.columns import MEMBERS, guessed, refuse_columns
from records.imports.faults import FileError
from records.imports.people import OF_NEIGHBOURS, read_people
from records.imports.table import read_table


def people(*lines: str, columns=None):
    table = read_table("\n".join(lines).encode())
    return read_people(table, columns or guessed(table.header, OF_NEIGHBOURS))


@pytest.mark.parametrize(
    ("header", "members"),
    [
        (
            "Full Name,Street Address,Apt,City,State,ZIP Code,E-mail",
            "name line1 line2 city region postcode email",
        ),
        ("Nombre,Dirección,Ciudad,Código_Postal,Teléfono", "name line1 city postcode phone"),
        ("House No,Street,Town,PostalCode,Is a dwelling", "house line1 city postcode dwelling"),
    ],
)
def test_columns_are_guessed_by_their_names(header, members):
    assert guessed(header.split(",")) == members.split()


def test_a_column_that_is_not_known_and_a_second_of_a_kind_are_left_out():
    assert guessed(["Colour", "Address", "Street"]) == ["", "line1", ""]


def test_only_what_the_list_may_hold_is_guessed():
    assert guessed(["Latitude", "Address"], OF_NEIGHBOURS) == ["", "line1"]


@pytest.mark.parametrize(("columns", "fault"), [(["name"], "no_address_column"), (["line1", "line1"], "twice")])
def test_a_choice_of_columns_that_can_t_be_right_is_refused(columns, fault):
    with pytest.raises(FileError) as refused:
        refuse_columns(columns)
    assert refused.value.faults[0].wording_id == fault


def test_each_row_becomes_an_entry_of_values():
    entries, faults = people(
        "Name,House No,Street,Language,Call,Dwelling,Abutting,Distance,Role",
        "B. Lark,6,Heron Row,Español,Sí,yes,no,20 ft,Propietaria",
        ",,8 Heron Row,,,,,,",
    )
    assert faults == []
    assert entries == [
        {
            "name": "B. Lark", "line1": "6 Heron Row", "language": "es", "wishes_phone": True, "dwelling": True,
            "abutting": False, "distance": "20 ft", "standing": "owner",
        },
        {"line1": "8 Heron Row"},
    ]  # fmt: skip


def test_every_wrong_cell_is_told_with_its_row_and_column():
    _, faults = people(
        "Street,Email,Language,Dwelling,Distance,Country,Order,Role,Phone",
        "6 Heron Row,none,fr,perhaps,20,USA,first,guest," + "1" * 41,
        "8 Heron Row,a@example.net,en,no,20 m,us,2,tenant,+1 360 555 0100",
    )
    assert {(each.row, each.column, each.wording_id) for each in faults} == {
        (2, "Email", "email"), (2, "Language", "language"), (2, "Dwelling", "yes_no"),
        (2, "Distance", "length"),
        (2, "Country", "country"), (2, "Order", "whole"), (2, "Role", "standing"), (2, "Phone", "too_long"),
    }  # fmt: skip
    assert {each.shown for each in faults} >= {"none", "perhaps", "20"}
    assert all(each.say("en") and each.say("es") for each in faults)


def test_a_row_without_any_place_is_a_fault():
    _, faults = people("Name,Street", "B. Lark,")
    assert [(each.row, each.wording_id) for each in faults] == [(2, "no_address")]


def test_a_row_that_comes_twice_is_a_fault_however_it_is_spelled():
    _, faults = people("Name,Street", "B. Lark,6 Heron Street", "b. lark,6 HERON ST.", "C. Wren,6 Heron Street")
    assert [(each.row, each.say("en")) for each in faults] == [(3, "The same as row 2.")]


def test_positions_are_read_as_degrees():
    table = "Street,Lat,Lon\n,47.10,-122.90\n,95,-122\n,47,1e3"
    entries, faults = people(*table.split("\n"), columns=["line1", "latitude", "longitude"])
    assert entries[0] == {"latitude": "47.10", "longitude": "-122.90"}
    assert [(each.row, each.column) for each in faults] == [(3, "Lat"), (4, "Lon")]


def test_every_member_that_may_be_chosen_is_said_in_both_languages():
    assert all(each.en and each.es for each in MEMBERS.values())
    assert set(OF_NEIGHBOURS) <= MEMBERS.keys()


@pytest.mark.parametrize(
    "phone", ["+1 360 555 0100", "(360) 555-0100", "555.0100", "360-555-0100 x 12", "360 555 0100 ext. 4"]
)
def test_a_phone_is_digits_and_the_marks_between_them(phone):
    entries, faults = people("Street,Phone", f"6 Heron Row,{phone}")
    assert (faults, entries[0]["phone"]) == ([], phone)


@pytest.mark.parametrize("phone", ["ask the son", "555010", "x" * 8, "1" * 21, "b.lark@example.net"])
def test_what_can_be_rung_by_nobody_is_no_phone(phone):
    (fault,) = people("Street,Phone", f"6 Heron Row,{phone}")[1]
    assert (fault.wording_id, fault.row, fault.column) == ("phone", 2, "Phone")
