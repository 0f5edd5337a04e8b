"""After its term, without a hold, what a record says of people goes."""

import json

import pytest
from django.apps import apps
from django.db import IntegrityError, transaction

from records.document.personal import PERSONAL, STAYS
from records.document.section_lines import lines_of
from records.document.types import TreatmentDocument
from records.models import AuditEntry, Erasure, Photo, RegisterTerm, TreatmentEdit
from records.record_files import record_file
from records.selectors import document_of
from records.services.corrections import NotSignedError, start_correction
from records.services.erasing import NotErasableError, erase
from records.services.photo_store import original
from records.services.signing import void
from records.services.to_sign import Signer
from shared import clock
from shared.orm import triggers
from tests.records.logged import by_sql
from tests.records.services.erasing import AFTER, SET_LINES, UNDER, UNTIL, erased, versions


@pytest.fixture
def photo(signed, member) -> Photo:
    row = Photo.objects.create(
        firm=signed.firm, treatment=signed, sha256="ab" * 32, bytes=1, by=member.user, received_at=clock.now()
    )
    original(row).parent.mkdir(parents=True)
    original(row).write_bytes(b"x")
    return row


def test_every_section_of_a_document_was_decided_on():
    assert PERSONAL.keys().isdisjoint(STAYS)
    members = {field.alias or name for name, field in TreatmentDocument.model_fields.items()}
    assert PERSONAL.keys() | STAYS.keys() == members - {"record"}


def test_sections_with_people_and_their_salts_go_from_every_version_and_the_others_stay(signed):
    before = versions(signed)
    erased(signed)
    for was, now in zip(before, versions(signed), strict=True):
        assert now.sections == {name: part for name, part in was.sections.items() if name in STAYS}
        assert now.salts.keys() == now.sections.keys()
        assert (bytes(now.record), now.digest) == (bytes(was.record), was.digest)
    assert {"mixes", "timing", "surfaces"} <= now.sections.keys()


def test_no_row_of_the_treatment_names_the_customer_any_more(signed, photo, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        now = erased(signed)
    said = json.dumps([now.document, [each.sections for each in versions(now)], now.unread])
    keys = now.customer_key + now.site_key
    assert "marlowe" not in (said + now.customer_name + now.site_name + now.applicators + keys).lower()
    terms = {term.folded for term in RegisterTerm.objects.for_firm(now.firm)}
    assert any("moss" in term for term in terms)
    assert not any("marlowe" in term or "osei" in term or "heron" in term for term in terms)
    assert not TreatmentEdit.objects.for_firm(now.firm).filter(treatment=now).exists()
    assert not Photo.objects.for_firm(now.firm).filter(treatment=now).exists()
    assert not original(photo).exists()


def test_no_digest_of_the_whole_document_stays_that_would_tell_a_right_guess(signed):
    assert all(each.document_digest for each in versions(signed))
    assert [each.document_digest for each in versions(erased(signed))] == ["", ""]


def test_who_did_what_says_of_an_erased_record_no_more_than_what_was_done(signed):
    entries = AuditEntry.objects.for_firm(signed.firm).filter(treatment=signed)
    before = {entry.pk: entry for entry in entries}
    assert {"customer", "notes", "mixes"} <= {name for entry in before.values() for name in entry.changes}
    erased(signed)
    for entry in entries.all():
        was = before[entry.pk]
        assert entry.changes == {name: of for name, of in was.changes.items() if name not in PERSONAL}
        assert (entry.at, entry.by, entry.kind, entry.thing_id) == (was.at, was.by, was.kind, was.thing_id)
    told = AuditEntry.objects.for_firm(signed.firm).get(kind="erased")
    assert (told.thing, told.reason) == ("records.erasure", UNDER[0])
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        entries.update(changes={})


def test_the_record_file_says_what_was_erased(signed):
    erased(signed)
    said = record_file(versions(signed)[1])["erased"]
    assert (said["on"], said["under"]) == ("2028-09-15", UNDER)
    assert "customer" in said["sections"]


def test_on_the_last_day_of_the_term_and_before_nothing_is_erased(signed):
    with pytest.raises(NotErasableError):
        erase(signed, UNTIL, UNDER, UNTIL)
    assert "customer" in document_of(versions(signed)[0])


def test_a_draft_and_an_open_correction_are_not_erased(draft, signed, member):
    with pytest.raises(NotErasableError):
        erase(start_correction(signed, member.user, "the lot was misread"), UNTIL, UNDER, AFTER)
    assert not Erasure.objects.for_firm(draft.firm).exists()


def test_an_erased_record_is_erased_once_and_neither_corrected_nor_made_void(signed, member, colleague):
    erased(signed)
    with pytest.raises(NotErasableError):
        erase(signed, UNTIL, UNDER, AFTER)
    with pytest.raises(NotSignedError):
        start_correction(signed, member.user, "too late")
    with pytest.raises(ValueError, match=signed.number):
        void(signed, "too late", Signer(colleague.user))


def test_sections_with_any_letters_in_them_can_be_erased(signed):
    """What the database compares is the text as it was written, escapes and all."""
    odd = {"customer": {"name": "x"}, "firm": {"a": [], "b": {}}, "targets": ["\u2028 \u0001 \\/ \"'] \t é 😀"]}
    lines = lines_of(odd, dict.fromkeys(odd, "00"))
    by_sql(f"{SET_LINES} WHERE version = 1", lines)
    triggers.install(sender=apps.get_app_config("records"))
    erased(signed)
    assert versions(signed)[0].sections == {name: odd[name] for name in ("targets", "firm")}
