"""When an area may be entered again, offered from what is known."""

import pytest

from records.forms.reentry import earliest_reentry

LABEL = {"limits": [{"of": "reentry", "min": {"value": "4", "unit": "hour"}}]}
LONGER = {"limits": [{"of": "reentry", "min": {"value": "300", "unit": "min"}}, {"of": "wind_speed"}]}
FINISH = {"finished_at": "2026-09-14T09:47:00-07:00"}


def document(*labels, timing=FINISH):
    return {"timing": timing, "mixes": [{"products": [{"label": label} for label in labels]}]}


@pytest.mark.parametrize(
    ("labels", "at"),
    [((LABEL,), "2026-09-14T13:47:00-07:00"), ((LABEL, LONGER), "2026-09-14T14:47:00-07:00")],
)
def test_it_is_the_finish_and_the_longest_time_of_the_labels(labels, at):
    assert earliest_reentry(document(*labels)) == at


@pytest.mark.parametrize(
    "unknown",
    [
        {},
        document(LABEL, timing={}),
        document({"limits": []}),
        document(LABEL, timing={"finished_at": "soon"}),
    ],
)
def test_nothing_is_offered_while_finish_or_label_is_unknown(unknown):
    assert earliest_reentry(unknown) is None
