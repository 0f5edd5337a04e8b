"""A cast of three: a member of our firm, a colleague, and a stranger of another firm who must see nothing."""

from collections.abc import Iterator

import pytest
from django.core.cache import cache
from django.db import connection

from records.models import Firm, Membership
from shared.orm import triggers
from tests.factories import FirmFactory, MembershipFactory


@pytest.fixture(autouse=True)
def keys_apart(settings, tmp_path) -> None:
    """Each test makes its own signing keys."""
    settings.KEY_DIR = tmp_path / "keys"


@pytest.fixture(autouse=True)
def nothing_cached() -> Iterator[None]:
    yield
    cache.clear()


@pytest.fixture(autouse=True)
def signed_rows_can_be_flushed(request) -> Iterator[None]:
    """Take the triggers down before a transactional test's tables are emptied; the flush puts them back."""
    marker = request.node.get_closest_marker("django_db")
    transactional = {"transactional_db", "live_server"} & set(request.fixturenames) or (
        marker and marker.kwargs.get("transaction")
    )
    if transactional:
        request.getfixturevalue("transactional_db")
    yield
    if transactional:
        triggers.remove(connection)


@pytest.fixture
def firm(db) -> Firm:
    return FirmFactory(name="Quillfeather Exterior Care")


@pytest.fixture
def member(firm) -> Membership:
    """A crew member of our firm."""
    return MembershipFactory(firm=firm, user__name="R. Osei")


@pytest.fixture
def colleague(firm) -> Membership:
    """Our firm's manager."""
    return MembershipFactory(firm=firm, role="manager", user__name="J. Quill")


@pytest.fixture
def stranger(db) -> Membership:
    """The manager of another firm, who must see nothing of ours."""
    return MembershipFactory(firm__name="Another Exterior Care", role="manager", user__name="S. Tranger")
