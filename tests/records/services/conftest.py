"""A treatment that was signed and corrected."""

import pytest

from records.document.edits import Edit
from records.models import Treatment
from records.services.corrections import start_correction
from records.services.drafts import edit_draft
from tests.records.logged import sign_now


@pytest.fixture
def signed(done, member) -> Treatment:
    """Two versions, with a customer, a site, people and notes."""
    edit_draft(done, [Edit("n", "notes", "A. Marlowe's dog was indoors", done.revision)], member.user)
    sign_now(done, member)
    sign_now(start_correction(done, member.user, "wind was read at noon"), member)
    done.refresh_from_db()
    return done
