"""A cast of three: a member of our firm, a colleague, and a stranger of another firm who must see nothing."""

import gc
from collections.abc import Iterator
from datetime import datetime

import pytest
from django.core.cache import caches
from django.test import TransactionTestCase
from hypothesis import HealthCheck, settings

from records.document.edits import Edit
from records.models import Firm, Membership, Treatment
from records.services.drafts import edit_draft
from records.services.planning import Plan, PlannedProduct, plan_treatment
from shared.quantities import Quantity
from tests.emptying import empty
from tests.factories import (
    CalibrationFactory,
    FeatureFactory,
    FirmFactory,
    LicenceFactory,
    LotFactory,
    MembershipFactory,
    SiteFactory,
    SurfaceFactory,
)
from tests.furnished import furnish
from tests.migrated import copied_or_kept
from tests.scheduling import Scheduling, pure_while_one_migrates

settings.register_profile("no clock", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("no clock")
PLANNED_AT = datetime.fromisoformat("2026-09-14T09:00:00-07:00")
TransactionTestCase._fixture_teardown = lambda case: empty()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    pure_while_one_migrates(items)


def pytest_collection_finish() -> None:
    """What was collected stays up to the end: the garbage collector need not go through it again and again."""
    gc.freeze()


def pytest_xdist_make_scheduler(config, log) -> Scheduling:
    return Scheduling(config, log)


@pytest.fixture(scope="session")
def django_db_setup(request, django_db_modify_db_settings, django_db_blocker) -> None:
    with django_db_blocker.unblock(), copied_or_kept():
        request.getfixturevalue("django_db_setup")


@pytest.fixture(autouse=True)
def keys_apart(settings, tmp_path) -> None:
    """Each test makes its own signing keys, and has files of its own."""
    settings.KEY_DIR = tmp_path / "keys"
    settings.FILES_DIR = tmp_path / "files"


@pytest.fixture(autouse=True)
def nothing_cached() -> Iterator[None]:
    yield
    for name in ("default", "proof"):
        caches[name].clear()


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


@pytest.fixture
def plan(firm, member) -> Plan:
    site = SiteFactory(firm=firm, name="House, 4 Heron Row", customer__name="A. Marlowe")
    FeatureFactory(site=site, firm=firm, name="north-west downspout")
    surface = SurfaceFactory(site=site, firm=firm, name="Main roof, north slope")
    LicenceFactory(firm=firm, person=member.person, number="CO-00231")
    lot = LotFactory(firm=firm, number="L-0457", label__product__name="Sample Moss Wash")
    rig = CalibrationFactory(firm=firm, rig__name="Rig 2").rig
    return Plan(
        site=site,
        surfaces=[surface],
        planned_at=PLANNED_AT,
        people=[member.person],
        products=[PlannedProduct(lot.label.product, lot, Quantity("1.5", "gal"))],
        diluent=Quantity("13.5", "gal"),
        rig=rig,
        targets=["moss"],
    )


@pytest.fixture
def draft(firm, member, plan) -> Treatment:
    return plan_treatment(firm, member.user, plan)


@pytest.fixture
def done(draft, member) -> Treatment:
    """The draft with the work written in."""
    mix = draft.document["mixes"][0]["id"]
    typed = {
        "record.result": "treated",
        "timing.started_at": "2026-09-14T09:12:00-07:00",
        "timing.finished_at": "2026-09-14T09:47:00-07:00",
        f"mixes[{mix}].applied": "14 gal",
    }
    edits = [Edit(path, path, value, draft.revision) for path, value in typed.items()]
    assert not edit_draft(draft, edits, member.user).unread
    return draft


@pytest.fixture
def ticked(draft, member) -> Treatment:
    """The draft with a protection step: storm drains covered."""
    step = {"id": "0a4f2f60-2f5e-4d53-9d7c-0a6c1f5d2b11", "step": "storm-drains-covered"}
    edit_draft(draft, [Edit("tick", f"protection[{step['id']}]", step, draft.revision)], member.user)
    return draft


@pytest.fixture
def two_firms(member, stranger) -> tuple[Firm, Firm]:
    furnish(member)
    furnish(stranger)
    return member.firm, stranger.firm
