"""A link that calls somebody holds a number that a phone can dial."""

import pytest

from records.templatetags.dialling import dialled


@pytest.mark.parametrize(
    ("written", "called"),
    [("+1 360 555 0100", "+13605550100"), ("(360) 555-0100", "3605550100"), ("", "")],
)
def test_what_parts_the_digits_is_not_called(written, called):
    assert dialled(written) == called
