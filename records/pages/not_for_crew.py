"""What the office alone is shown."""

from records.models import Membership


def hidden_from(membership: Membership) -> frozenset[str]:
    """Whose notices this member is not shown: a crew does not learn who is on a register; the office tells
    them."""
    is_crew = membership.role == Membership.Role.CREW
    return frozenset({"registered-person"} if is_crew else ())
