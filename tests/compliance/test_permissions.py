"""Who may read the rules, and who may change the firm's own, by role in the firm."""

import pytest

from compliance import permissions
from tests.factories import MembershipFactory, SiteFactory
from tests.records.test_permissions import may

MAY = {
    "compliance.view_rules": {"crew", "manager", "office", "inspector"},
    "compliance.edit_rules": {"manager"},
}


@pytest.mark.parametrize("permission", MAY)
def test_each_role_may_what_the_table_says_in_its_own_firm_only(permission, firm, stranger):
    assert permissions.rules.perm_exists(permission)
    for role in ("crew", "manager", "office", "inspector"):
        user = MembershipFactory(firm=firm, role=role).user
        assert may(user, permission, SiteFactory(firm=firm)) == (role in MAY[permission])
        assert not may(user, permission, stranger.firm)
