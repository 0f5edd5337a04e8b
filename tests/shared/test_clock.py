from datetime import UTC, datetime

from shared import clock

SPRING = datetime(2025, 3, 19, 16, 40, tzinfo=UTC)


def test_within_the_block_it_is_the_moment_given_and_afterwards_the_present_again():
    with clock.at(SPRING):
        assert clock.now() == SPRING
    assert clock.now() > SPRING


def test_the_clock_is_put_back_when_the_block_fails():
    try:
        with clock.at(SPRING):
            raise ValueError
    except ValueError:
        pass
    assert clock.now() != SPRING
