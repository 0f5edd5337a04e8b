"""A firm that has signed seven things."""

from datetime import timedelta

import pytest
from django.db import transaction

from records.models import SignedFollowUp, SignedRecord
from records.services.corrections import start_correction
from records.services.follow_ups import sign_follow_up
from records.services.signing import void
from records.services.to_sign import Signer
from tests.records.logged import AT, sign_now


@pytest.fixture
def logged(done, member, colleague) -> list[SignedRecord | SignedFollowUp]:
    """Seven signed things of one firm in the order in which they came in."""
    first = sign_now(done, member)
    made = [first, sign_follow_up(done, Signer(member.user), kind="copy-given", at=AT)]
    made.append(sign_follow_up(done, Signer(member.user), kind="note", at=AT, detail="rinsed again"))
    correction = start_correction(done, member.user, "wind was read at noon")
    made.append(sign_now(correction, member))
    made.append(sign_follow_up(done, Signer(member.user), kind="sign-removed", at=AT + timedelta(days=1)))
    made.append(sign_follow_up(done, Signer(colleague.user), kind="note", at=AT, detail="filed"))
    done.refresh_from_db()
    made.append(void(done, "it was the neighbour's roof", Signer(colleague.user)))
    return made


@pytest.fixture
def unchecked():
    """Rows may point to what was taken out, until the test is over."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)
