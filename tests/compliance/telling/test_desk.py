"""On the manager's page stands each visit of which somebody has to be told within two days, or otherwise."""

from datetime import timedelta

import pytest
from django.urls import reverse

from tests.compliance.telling.conftest import PLANNED
from tests.compliance.telling.test_changes import BEYOND, move, sent, tell
from tests.compliance.telling.test_week import firm  # noqa: F401 - a fixture

pytestmark = pytest.mark.django_db


@pytest.fixture
def needs(client, colleague):
    client.force_login(colleague.user)

    def found():
        groups = client.get(reverse("desk")).context["groups"]
        return [(each.what, each.late) for group in groups if group.key == "notices" for each in group.needs]

    return found


def test_a_visit_is_here_two_days_before_its_notices_are_late_and_then_is_late(
    needs, lawn, neighbours, days_before
):
    said = f"{lawn.number} · {lawn.site_name}"
    assert needs() == []
    days_before.move_to(PLANNED - timedelta(hours=72))
    assert needs() == [(said, False)]
    days_before.move_to(PLANNED - timedelta(hours=20))
    assert needs() == [(said, True)]


def test_who_was_told_otherwise_waits_here(needs, lawn, neighbours, office, days_before):
    tell(lawn, office, "A. Marlowe", "B. Lark", "C. Wren")
    sent(lawn)
    assert needs() == []
    days_before.shift(timedelta(hours=1))
    move(lawn, office, BEYOND)
    assert needs() == [(f"{lawn.number} · {lawn.site_name}", False)]
