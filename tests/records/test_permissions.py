"""Who may do what, by role in the row's firm."""

import pytest
from django.core.exceptions import PermissionDenied

from records.models import User
from records.permissions import demand
from tests.factories import MembershipFactory, SiteFactory, UserFactory

MAY = {
    "records.view_treatment": {"crew", "manager", "office", "inspector"},
    "records.share_view": {"manager", "office"},
    "records.view_draft": {"crew", "manager", "office"},
    "records.plan_treatment": {"crew", "manager", "office"},
    "records.edit_draft": {"crew", "manager", "office"},
    "records.send_notices": {"crew", "manager", "office"},
    "records.see_to_notices": {"manager", "office"},
    "records.sign_treatment": {"crew", "manager"},
    "records.correct_treatment": {"crew", "manager"},
    "records.sign_follow_up": {"crew", "manager"},
    "records.void_treatment": {"manager"},
    "records.view_audit": {"manager"},
    "records.view_log": {"manager"},
    "records.view_head": {"manager", "inspector"},
}


def may(user: User, permission: str, row: object) -> bool:
    try:
        demand(user, permission, row)
    except PermissionDenied:
        return False
    return True


@pytest.mark.parametrize("permission", MAY)
def test_each_role_may_what_the_table_says_in_its_own_firm_only(permission, firm, stranger):
    ours, theirs = SiteFactory(firm=firm), SiteFactory(firm=stranger.firm)
    for role in ("crew", "manager", "office", "inspector"):
        user = MembershipFactory(firm=firm, role=role).user
        assert may(user, permission, ours) == (role in MAY[permission])
        assert may(user, permission, firm) == (role in MAY[permission])
        assert not may(user, permission, theirs)
        assert not may(user, permission, stranger.firm)


@pytest.mark.parametrize("permission", MAY)
def test_who_left_or_never_came_may_nothing(permission, firm):
    left = MembershipFactory(firm=firm, role="manager", active=False).user
    shut_out = MembershipFactory(firm=firm, role="manager", user__is_active=False).user
    owner = UserFactory(is_superuser=True)
    assert not any(may(user, permission, firm) for user in (left, shut_out, owner))
