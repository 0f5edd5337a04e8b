"""Changes of reference rows: each with its history stands in who did what, and neither without the other."""

import re

import pytest
from django.apps import apps
from django.core import checks
from django.test import override_settings

from compliance.models import Determination
from records.models import AuditEntry, Customer, Firm, Site, Surface
from shared.history import check_history_is_kept
from tests.factories import CustomerFactory, SiteFactory, SurfaceFactory
from tests.furnished import furnish
from tests.health.committed import code, name_of
from tests.records.auditing.entries import entries, members, newest


def test_a_new_row_stands_with_its_values(firm):
    surface = SurfaceFactory(firm=firm, name="Main roof, north slope")
    entry = newest(firm, thing="records.surface")
    assert (entry.kind, entry.thing_id, entry.thing_name) == ("created", str(surface.pk), surface.name)
    assert members(entry)["plan_area"] == (None, "1200 ft**2")
    assert members(entry)["site"] == (None, surface.site.name)
    assert "backflow" not in members(entry)


def test_a_change_stands_with_the_old_and_the_new_value_of_what_changed_alone(firm):
    site = SiteFactory(firm=firm, city="Port Quill", jurisdictions=["us"])
    site.city, site.jurisdictions = "Señal Bay", ["us", "us-wa"]
    site.customer = CustomerFactory(firm=firm, name="B. Lark")
    old = Site.objects.for_firm(firm).get(pk=site.pk).customer.name
    site._change_reason = "moved"
    site.save()
    entry = newest(firm, thing="records.site")
    assert (entry.kind, entry.reason) == ("changed", "moved")
    assert members(entry) == {
        "city": ("Port Quill", "Señal Bay"),
        "customer": (old, "B. Lark"),
        "jurisdictions": (["us"], ["us", "us-wa"]),
    }


def test_a_row_that_is_saved_as_it_was_is_no_change(firm):
    site = SiteFactory(firm=firm)
    site.save()
    assert [entry.kind for entry in entries(firm, thing="records.site")] == ["created"]


def test_a_row_that_is_taken_out_leaves_its_values_and_its_parts(firm):
    surface = SurfaceFactory(firm=firm, name="Main roof")
    site, name = surface.site, surface.site.name
    site.delete()
    gone = {entry.thing: entry for entry in entries(firm, kind="removed")}
    assert set(gone) == {"records.surface", "records.site"}
    assert members(gone["records.site"])["name"] == (name, None)


def test_the_firm_itself_and_answers_to_open_questions_are_rows_like_others(firm):
    firm.phone = "+1 360 555 0199"
    firm.save()
    assert members(newest(firm, thing="records.firm")) == {"phone": ("+1 360 555 0100", "+1 360 555 0199")}
    answer = Determination(firm=firm, question="q", answer="no", by="J. Quill", valid_from="2026-01-01")
    answer.save()
    assert newest(firm, thing="compliance.determination").kind == "created"


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("make", [CustomerFactory.build, None])
def test_a_row_whose_entry_can_t_be_written_is_not_saved(make, monkeypatch):
    """Also where nothing else holds the two together in one transaction."""
    firm = Firm(name="Quillfeather Exterior Care")
    if make:
        firm.save()

    def broken(self, *_args, **_kwargs):
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(AuditEntry, "save", broken)
    row = Customer(firm=firm, name="A. Marlowe") if make else firm
    with pytest.raises(RuntimeError, match="disk"):
        row.save()
    assert not type(row).across_firms.filter(pk=row.pk).exists()
    assert not type(row).history.model.across_firms.filter(uuid=row.pk).exists()


def test_every_model_with_a_history_has_entries(two_firms):
    kept = {
        model._meta.label_lower
        for model in apps.get_models()
        if hasattr(model._meta, "simple_history_manager_attribute")
    }
    assert kept > {"records.site", "records.membership", "compliance.determination"}
    for firm in two_firms:
        assert kept == {entry.thing for entry in entries(firm, thing__in=kept)}


def test_a_switched_off_history_is_an_error_of_the_set_up(db):
    assert check_history_is_kept() == []
    with override_settings(SIMPLE_HISTORY_ENABLED=False):
        assert [fault.id for fault in checks.run_checks() if fault.id == "shared.E002"] == ["shared.E002"]


def test_no_code_changes_rows_past_their_history():
    """In bulk only rows without a history are put in or changed: each place is looked at here."""
    past = re.compile(r"save_without_historical_record|skip_history_when_saving|\.bulk_update\(|_raw_delete")
    assert [name_of(path) for path in code() if past.search(path.read_text())] == []
    in_bulk = re.compile(r"(\w+)(?:\.objects)?\.bulk_create\(|\.filter\(.*\)\.update\(")
    found = {name_of(path) for path in code("records", "compliance") if in_bulk.search(path.read_text())}
    assert found == {
        "records/services/handing_over.py",
        "records/services/log.py",
        "records/leaving/loading.py",
        "records/services/planned_rows.py",
        "records/services/bringing_in/looking.py",
        "records/services/bringing_in/taking.py",
        "records/services/projection.py",
        "records/services/drafts.py",
        "records/services/erasing.py",
        "records/services/incident_erasing.py",
        "records/services/findable.py",
        "records/programs/tokens.py",
        "records/outbox/queueing.py",
        "records/outbox/erasing.py",
        "records/outbox/person_says.py",
        "compliance/services/handed_links.py",
        "compliance/services/recheck.py",
    }


def test_entries_of_two_firms_are_apart(firm, stranger):
    furnish(stranger)
    assert {entry.firm_id for entry in entries(stranger.firm)} == {stranger.firm.pk}
    SurfaceFactory(firm=firm)
    assert not entries(stranger.firm, thing_id=str(Surface.objects.for_firm(firm).get().pk))
