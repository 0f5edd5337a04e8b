"""What should be there of a lot: what came in less what went out, begun anew by each count."""

from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from records.shelf import Entry, Size, is_beyond, kept, lowest
from shared.quantities import Quantity, from_base

DENSITY = Quantity("8.9", "lb/gal")
FIVE_PERCENT = Fraction(5, 100)


def entry(kind, day, amount, **more):
    value, unit = amount.split()
    return Entry(kind, day and date(2026, 5, day), Size.of(Quantity(value, unit)), **more)


def said(base):
    return None if base is None else from_base(base, "gal").value


def after(*entries, dimension="volume", density=None):
    return kept(entries, dimension, density)[-1]


def test_what_is_left_is_what_was_there_and_came_less_what_was_used_and_thrown_away():
    """Closing = opening + purchases - applied - disposed: 12.5 + 10 - 7.2 - 0.3 = 15.0 gal (from memory: the
    stock identity of bookkeeping; the figures are worked by hand)."""
    ledger = [
        entry("received", None, "12.5 gal"),
        entry("purchase", 2, "10 gal"),
        entry("used", 3, "7.2 gal"),
        entry("disposal", 4, "0.3 gal"),
    ]
    assert [said(line.after) for line in kept(ledger, "volume", None)] == ["12.5", "22.5", "15.3", "15"]


def test_a_count_is_set_against_what_should_be_there_and_is_what_is_there_from_then():
    """(book - count) / book: 15.0 against 14.7 is 2.0 % (worked by hand)."""
    ledger = [entry("received", None, "15 gal"), entry("count", 6, "14.7 gal"), entry("used", 7, "1 gal")]
    _received, count, used = kept(ledger, "volume", None)
    assert (said(count.should_be), said(-count.off), said(used.after)) == ("15", "0.3", "13.7")
    assert -count.off / count.should_be == Fraction(2, 100)


def test_what_differs_by_the_share_itself_is_not_beyond_it():
    counted = {
        amount: after(entry("received", None, "10 gal"), entry("count", 6, f"{amount} gal"))
        for amount in ("9.5", "9.499999", "10.5", "10.500001", "10")
    }
    beyond = [amount for amount, line in counted.items() if is_beyond(line, FIVE_PERCENT)]
    assert beyond == ["9.499999", "10.500001"]


def test_anything_where_nothing_should_be_is_beyond_any_share():
    line = after(entry("received", None, "1 gal"), entry("used", 1, "1 gal"), entry("count", 2, "0.1 gal"))
    assert is_beyond(line, Fraction(1))
    empty = after(entry("received", None, "1 gal"), entry("used", 1, "1 gal"), entry("count", 2, "0 gal"))
    assert not is_beyond(empty, Fraction(0))


def test_of_one_day_the_count_before_the_work_comes_first_and_the_one_after_it_last():
    ledger = [
        entry("count", 5, "3 gal"),
        entry("disposal", 5, "1 gal"),
        entry("used", 5, "1 gal"),
        entry("purchase", 5, "1 gal"),
        entry("count", 5, "4 gal", early=True),
    ]
    lines = kept(ledger, "volume", None)
    assert [line.entry.kind for line in lines] == ["count", "purchase", "used", "disposal", "count"]
    assert said(lines[-1].should_be) == "3"


def test_before_anything_is_known_nothing_is_told_and_a_count_begins_it():
    first, count, used = kept(
        [entry("used", 1, "1 gal"), entry("count", 2, "4 gal"), entry("used", 3, "1 gal")], "volume", None
    )
    assert (first.after, count.should_be, count.off, said(used.after)) == (None, None, None, "3")
    assert not is_beyond(count, Fraction(0))


def test_a_purchase_begins_it_where_nobody_wrote_what_was_there():
    assert said(after(entry("purchase", 1, "2.5 gal"), entry("used", 2, "1 gal")).after) == "1.5"


def test_what_was_weighed_is_taken_off_a_volume_by_the_density_of_the_label():
    # 8.9 lb of 8.9 lb/gal is 1 gal
    ledger = [entry("received", None, "5 gal"), entry("used", 1, "8.9 lb")]
    assert said(after(*ledger, density=DENSITY).after) == "4"
    weighed = [entry("received", None, "44.5 lb"), entry("used", 1, "1 gal")]
    line = after(*weighed, dimension="mass", density=DENSITY)
    assert from_base(line.after, "lb") == Quantity("35.6", "lb")


def test_without_a_density_weight_and_volume_do_not_meet_until_a_count():
    ledger = [entry("received", None, "5 gal"), entry("used", 1, "8.9 lb"), entry("used", 2, "1 gal")]
    lines = kept(ledger, "volume", None)
    assert [line.after for line in lines[1:]] == [None, None]
    assert lines[1].change is None
    assert said(kept([*ledger, entry("count", 3, "2 gal")], "volume", None)[-1].after) == "2"


def test_more_used_than_there_was_is_lacking_beyond_the_share_of_all_that_came():
    came = [entry("received", None, "5 gal"), entry("purchase", 1, "5 gal")]
    assert lowest(kept([*came, entry("used", 2, "10.6 gal")], "volume", None), FIVE_PERCENT)
    assert not lowest(kept([*came, entry("used", 2, "10.5 gal")], "volume", None), FIVE_PERCENT)
    counted = [*came, entry("used", 2, "10.6 gal"), entry("count", 3, "0 gal")]
    assert not lowest(kept(counted, "volume", None), FIVE_PERCENT)
    assert not lowest([], FIVE_PERCENT)


def test_what_comes_later_makes_up_for_nothing_that_was_used_before():
    """1 - 3 = -2 on the 2nd, whatever comes on the 10th (worked by hand)."""
    late = [entry("purchase", 1, "1 gal"), entry("used", 2, "3 gal"), entry("purchase", 10, "5 gal")]
    found = lowest(kept(late, "volume", None), FIVE_PERCENT)
    assert found
    assert (found.entry.day, said(-found.after)) == (date(2026, 5, 2), "2")
    assert lowest(kept([*late, entry("used", 11, "4 gal")], "volume", None), FIVE_PERCENT) == found
    assert not lowest(kept([*late, entry("count", 12, "3 gal")], "volume", None), FIVE_PERCENT)


amounts = st.integers(0, 10**9).map(lambda n: f"{n // 1000}.{n % 1000:03} mL")


@given(st.lists(st.tuples(st.sampled_from(["purchase", "used", "disposal", "return"]), amounts), max_size=12))
def test_nothing_is_lost_by_adding_up_in_whatever_order(moves):
    ledger = [entry("received", None, "0 mL"), *(entry(kind, 1, amount) for kind, amount in moves)]
    signs = {"purchase": 1}
    total = sum((signs.get(each.kind, -1) * each.amount.base for each in ledger[1:]), Fraction(0))
    assert kept(ledger, "volume", None)[-1].after == total
    assert kept(ledger[::-1], "volume", None)[-1].after == total
