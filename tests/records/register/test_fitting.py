"""Every name is found by its own text, however it is written."""

from datetime import date

from hypothesis import assume, given
from hypothesis import strategies as st

from records.register.fitting import NAMES, Held, fits, number_asked
from records.register.terms import IN_WORDS, LONGEST, REGISTRATION, compared, term_of
from records.register.wanted import RegisterFilter

KINDS = st.sampled_from([(box, kind) for box, kinds in NAMES.items() for kind in kinds])


@given(KINDS, st.text(min_size=1, max_size=LONGEST + 20))
def test_a_term_always_finds_itself_by_its_own_text(named, text):
    box, kind = named
    term = term_of(kind, text)
    asks_numbers = number_asked(box, term.written) or number_asked("words", term.written)
    assume(kind == REGISTRATION or not asks_numbers)
    held = Held("7", date(2026, 9, 14), "signed", "", None, [term])
    assert compared(term.written) == term.folded
    assert fits(held, RegisterFilter(**{box: term.written}))
    if kind in IN_WORDS and len(term.folded) < LONGEST:
        assert fits(held, RegisterFilter(words=term.written))
