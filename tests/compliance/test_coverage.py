"""The table of what each pack states, against what the laws are known to state."""

from compliance.coverage import LABELS, MEANS, coverage
from compliance.pack_reader import registered_packs
from compliance.rulebook.topics import TOPICS

ROWS = {row.pack.id: row for row in coverage(registered_packs())}


def stated(place: str, topic: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    cell = next(cell for cell in ROWS[place].cells if cell.topic == topic)
    return cell.checked, cell.reminded


def test_every_place_has_a_cell_for_every_topic_and_the_record_itself_is_no_place():
    assert "everywhere" not in ROWS
    assert all(tuple(cell.topic for cell in row.cells) == TOPICS for row in ROWS.values())
    assert LABELS.keys() == set(TOPICS)
    assert {row.pack.by_means for row in ROWS.values()} <= MEANS.keys()


def test_rules_are_sorted_by_kind_and_recipient():
    # New York Environmental Conservation Law 33-1004: neighbours told 48 hours before
    assert any(cite.startswith("ECL 33-1004") for cite in stated("us-ny", "neighbours")[0])
    assert stated("us-ny", "posting")[0] and stated("us-ny", "reports")[0] and stated("us-ny", "retention")[0]
    # Washington, RCW 17.21.100(4): who is given a copy of the record, which no record can show
    assert stated("us-wa", "access") == ((), ("RCW 17.21.100(4)(a), (b)", "RCW 17.21.100(5)"))


def test_licences_have_a_column_and_a_reminder_on_weather_counts():
    # Connecticut, C.G.S. 22a-66c(a): a business is registered; Maryland, COMAR 15.05.01.02 B(3): no drift
    assert "C.G.S. 22a-66c(a)" in stated("us-ct", "licences")[0]
    assert stated("us-md", "weather") == ((), ("COMAR 15.05.01.02 B(3)",))


def test_a_ban_and_a_permit_stand_under_one_topic():
    # Germany, PflSchG § 12(2): a permit for paved ground; beside waters only as a reminder
    checked, reminded = stated("de", "permission")
    assert "PflSchG § 12(2)" in checked
    assert reminded == ("PflSchG § 12(2) sentence 2",)


def test_what_a_pack_does_not_state_is_said():
    assert {"reports", "neighbours"} <= set(ROWS["us-wa"].lacking)
