"""What is held is not erased; who held it, why, and who lifted it is kept."""

import pytest
from django.core.exceptions import PermissionDenied

from records.models import AuditEntry, LegalHold
from records.services.erasing import NotErasableError, erase
from records.services.holds import NoHoldError, hold, lift, standing_hold
from tests.records.services.erasing import AFTER, UNDER, UNTIL, erased


def test_holds_and_their_ends_stand_in_who_did_what(signed, colleague):
    hold(signed, "a claim", colleague.user)
    lift(signed, "settled", colleague.user)
    kinds = ["records.legalhold", "records.holdlifted"]
    entries = AuditEntry.objects.for_firm(signed.firm).filter(thing__in=kinds)
    assert [(entry.by, entry.reason) for entry in entries.order_by("pk")] == [
        (colleague.user, "a claim"),
        (colleague.user, "settled"),
    ]


def test_what_is_held_is_not_erased_until_the_hold_is_lifted(signed, colleague):
    hold(signed, "a claim of the neighbour", colleague.user)
    with pytest.raises(NotErasableError):
        erase(signed, UNTIL, UNDER, AFTER)
    lift(signed, "settled", colleague.user)
    assert "customer" not in erased(signed).document


def test_a_hold_and_its_end_are_kept_with_who_when_and_why(signed, colleague):
    first = hold(signed, "a claim", colleague.user)
    assert hold(signed, "a second one", colleague.user) == first
    ended = lift(signed, "settled", colleague.user)
    again = hold(signed, "appealed", colleague.user)
    assert (first.reason, ended.reason, ended.by) == ("a claim", "settled", colleague.user)
    assert standing_hold(signed) == again
    assert LegalHold.objects.for_firm(signed.firm).count() == 2


def test_only_a_manager_holds_lifts_and_erases(signed, member, colleague):
    with pytest.raises(PermissionDenied):
        hold(signed, "a claim", member.user)
    hold(signed, "a claim", colleague.user)
    with pytest.raises(PermissionDenied):
        lift(signed, "settled", member.user)
    with pytest.raises(PermissionDenied):
        erase(signed, UNTIL, UNDER, AFTER, member.user)


def test_a_hold_wants_a_reason_and_what_is_not_held_is_not_lifted(signed, colleague):
    with pytest.raises(ValueError, match="reason"):
        hold(signed, " ", colleague.user)
    with pytest.raises(NoHoldError):
        lift(signed, "settled", colleague.user)
