"""Who may do what: predicates over a user and a row, by the user's role in the row's firm.

Asked as `user.has_perm("records.sign_treatment", treatment)`; without a row, whether in any firm.
"""

from typing import Any

import rules
from django.core.exceptions import PermissionDenied

from records.models import Firm, Membership, User

Role = Membership.Role


def role_of(user: User, row: Any) -> set[str]:
    """The user's roles in the firm of `row` (at most one), or in all firms when `row` is None."""
    roles = getattr(user, "roles", {})
    if row is None:
        return set(roles.values())
    firm = row.pk if isinstance(row, Firm) else row.firm_id
    return {roles[firm]} if firm in roles else set()


def _has_role(name: str, *roles: str) -> Any:
    @rules.predicate(name)
    def predicate(user: User, row: Any = None) -> bool:
        return bool(role_of(user, row) & set(roles))

    return predicate


is_member = _has_role("is_member", *Role.values)
is_manager = _has_role("is_manager", Role.MANAGER)
plans = _has_role("plans", Role.CREW, Role.OFFICE, Role.MANAGER)
signs = _has_role("signs", Role.CREW, Role.MANAGER)
sees_to_notices = _has_role("sees_to_notices", Role.OFFICE, Role.MANAGER)
sees_head = _has_role("sees_head", Role.MANAGER, Role.INSPECTOR)
keeps_lists = _has_role("keeps_lists", Role.OFFICE, Role.MANAGER)

rules.add_perm("records.view_treatment", is_member)
rules.add_perm("records.share_view", keeps_lists)
rules.add_perm("records.use_programs", is_member)
rules.add_perm("records.end_programs", is_manager)
rules.add_perm("records.keep_hooks", is_manager)
rules.add_perm("records.view_draft", plans)
rules.add_perm("records.plan_treatment", plans)
rules.add_perm("records.edit_draft", plans)
rules.add_perm("records.send_notices", plans)
rules.add_perm("records.see_to_notices", sees_to_notices)
rules.add_perm("records.view_neighbours", plans)
rules.add_perm("records.edit_neighbours", keeps_lists)
rules.add_perm("records.sign_treatment", signs)
rules.add_perm("records.correct_treatment", signs)
rules.add_perm("records.sign_follow_up", signs)
rules.add_perm("records.void_treatment", is_manager)
rules.add_perm("records.tell_incident", plans)
rules.add_perm("records.close_incident", is_manager)
rules.add_perm("records.look_at_seals", is_manager)
rules.add_perm("records.download_original", is_manager)
rules.add_perm("records.hold_treatment", is_manager)
rules.add_perm("records.erase_treatment", is_manager)
rules.add_perm("records.view_audit", is_manager)
rules.add_perm("records.hand_over", is_manager)
rules.add_perm("records.bring_in", is_manager)
rules.add_perm("records.take_out", is_manager)
rules.add_perm("records.keep_stock", keeps_lists)
rules.add_perm("records.settle_stock", is_manager)
rules.add_perm("records.view_log", is_manager)
rules.add_perm("records.view_head", sees_head)
rules.add_perm("records.change_key", is_manager)


def demand(user: User, permission: str, row: Any) -> None:
    """Raise PermissionDenied unless the user's role in the row's firm gives the permission.

    The machine's owner has no role in a firm, and so signs for none.
    """
    if not (user.is_active and rules.has_perm(permission, user, row)):
        raise PermissionDenied(permission)
