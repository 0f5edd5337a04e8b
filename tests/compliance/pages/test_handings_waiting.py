"""A bundle that waits behind other work of the worker is told from one whose worker died."""

from datetime import timedelta

import pytest
from django_tasks_db.models import DBTaskResult

from compliance.models import Handing
from compliance.services.handings import go_on
from shared import clock
from tests.compliance.pages.test_handings import made, where
from tests.compliance.pages.test_requests import NOW, manager  # noqa: F401 - a fixture
from tests.project.test_addresses import signed  # noqa: F401 - a fixture

LATER = NOW + timedelta(minutes=30)
MAKE = "compliance.tasks.make_handing"


@pytest.fixture
def waiting(manager, signed, settings) -> Handing:  # noqa: F811
    """One that nobody has taken from the queue."""
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
    handing = made(manager)
    assert handing.state == "waiting"
    return handing


def turns() -> int:
    return DBTaskResult.objects.filter(task_path=MAKE).count()


def test_what_waits_in_the_queue_is_not_broken_off_however_long_and_is_not_begun_again(waiting, manager):  # noqa: F811
    with clock.at(LATER):
        page = manager.get(where(waiting)).content.decode()
        assert "It has waited for the worker since" in page
        assert "This was broken off" not in page
        go_on(waiting)
        manager.post(where(waiting), {"again": "yes"})
    assert turns() == 1


def test_it_is_looked_after_again_and_no_try_is_used_up(waiting):
    looks = DBTaskResult.objects.filter(task_path="compliance.tasks.look_after_handing")
    with clock.at(LATER):
        for _ in range(5):
            go_on(Handing.across_firms.get(), 2)
    assert [look.args_kwargs["args"][2] for look in looks.order_by("enqueued_at")] == [0, 2, 2, 2, 2, 2]


@pytest.mark.parametrize("gone", [True, False])
def test_what_a_worker_took_and_was_heard_of_no_more_goes_on(waiting, gone):
    queued = DBTaskResult.objects.filter(task_path=MAKE)
    _ = queued.delete() if gone else queued.update(status="RUNNING", started_at=NOW + timedelta(minutes=20))
    assert not Handing.across_firms.get().is_broken_off
    with clock.at(LATER):
        assert Handing.across_firms.get().is_broken_off
        go_on(Handing.across_firms.get())
    assert turns() == (1 if gone else 2)


def test_one_that_a_worker_has_just_taken_is_not_broken_off_for_having_waited(waiting):
    taken_at = LATER - timedelta(seconds=5)
    DBTaskResult.objects.filter(task_path=MAKE).update(status="RUNNING", started_at=taken_at)
    with clock.at(LATER):
        assert not Handing.across_firms.get().is_broken_off


def test_one_that_says_how_far_it_is_is_alive(waiting):
    DBTaskResult.objects.filter(task_path=MAKE).update(status="RUNNING", started_at=NOW)
    Handing.across_firms.update(state="making", noted_at=LATER - timedelta(minutes=1))
    with clock.at(LATER):
        assert not Handing.across_firms.get().is_broken_off
