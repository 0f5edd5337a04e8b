from datetime import UTC, date, datetime

import pytest

from records.outbox.piece import Attachment
from tests.records.outbox.pieces import PIECE, piece


@pytest.mark.parametrize(
    "changes",
    [
        {"name": "P. Sandova"},
        {"text": "Another word."},
        {"means": "letter"},
        {"attachments": (Attachment("visit.ics", "text/calendar", b"another visit"),)},
        {"alternate_dates": (date(2026, 9, 16),)},
        {"until": None},
    ],
)
def test_the_digest_is_over_everything_that_is_told(changes):
    assert piece(**changes).digest != PIECE.digest


def test_the_same_moment_on_another_clock_is_the_same_notice():
    assert piece(planned_at=PIECE.planned_at.astimezone(UTC)).digest == PIECE.digest


def test_a_notice_names_moments_in_time():
    with pytest.raises(ValueError, match="moments"):
        piece(planned_at=datetime(2026, 9, 14, 9))  # noqa: DTZ001
