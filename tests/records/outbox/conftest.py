"""A mail server of this machine alone, and notices on their way to it."""

from collections.abc import Iterator

import pytest
from django_tasks import task_backends
from django_tasks_db.backend import DatabaseBackend
from django_tasks_db.models import DBTaskResult

from records.models import Notice
from records.outbox.queueing import queue
from tests.records.outbox.mail_server import MailServer
from tests.records.outbox.pieces import PIECE

BEFORE = "2026-09-10T16:00:00Z"


@pytest.fixture
def waiting(db) -> Iterator:
    """Tasks wait for the worker, as in real use; `waiting()` gives them."""
    task_backends["default"] = DatabaseBackend("default", {})
    yield lambda: DBTaskResult.objects.filter(status="READY").order_by("run_after")
    del task_backends["default"]


@pytest.fixture
def before(time_machine) -> None:
    """Four days before the visit."""
    time_machine.move_to(BEFORE, tick=False)


@pytest.fixture
def notice(before, waiting, draft, member) -> Notice:
    queue(draft, [PIECE], member.user)
    return Notice.objects.for_firm(draft.firm).get()


@pytest.fixture
def mail_server(settings) -> Iterator[MailServer]:
    with MailServer() as server:
        settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
        settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", server.port
        settings.EMAIL_TIMEOUT = 1
        yield server
