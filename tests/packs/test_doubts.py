"""What a pack requires without having read the law's own words says so."""

import pytest

from compliance.pack_reader import registered_packs
from compliance.rulebook.pack import ANYWHERE
from compliance.rulebook.rule import Rule

_LAWS = [pack for pack in registered_packs() if pack.place != ANYWHERE]
_NOT_READ = [rule for pack in _LAWS for rule in pack.rules if rule.text != "found"]


@pytest.mark.parametrize("rule", _NOT_READ, ids=lambda rule: rule.id)
def test_a_duty_whose_text_was_not_read_states_its_doubt(rule: Rule) -> None:
    assert rule.doubt or rule.level == "advised"
