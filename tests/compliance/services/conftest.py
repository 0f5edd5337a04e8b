"""A phone that was on the roof without a signal, and is back in the yard."""

from datetime import timedelta

import pytest
import time_machine

from tests.compliance.services.sealing import BACK_IN_THE_YARD
from tests.device import Device


@pytest.fixture
def in_the_yard():
    with time_machine.travel(BACK_IN_THE_YARD, tick=False) as clock:
        yield clock


@pytest.fixture
def device(member, firm, in_the_yard) -> Device:
    """Registered the day before."""
    device = Device()
    in_the_yard.shift(-timedelta(days=1))
    device.register(member.user, firm)
    in_the_yard.shift(timedelta(days=1))
    return device
