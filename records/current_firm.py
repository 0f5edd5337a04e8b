"""In which of the user's firms a request works: that of the token it came with, the one chosen in the session,
else the first by name."""

from uuid import UUID

from django.http import HttpRequest

from records.models import Firm, Membership

CHOSEN = "firm"


def memberships(request: HttpRequest) -> list[Membership]:
    """What the user is in which firm, by the firms' names; read once for a request."""
    if not hasattr(request, "memberships"):
        rows = request.user.counted_memberships().select_related("firm", "person")
        request.memberships = list(rows.order_by("firm__name", "pk"))  # type: ignore[attr-defined]
    return list(request.memberships)


def current_membership(request: HttpRequest) -> Membership | None:
    """The membership by which this request works; None for a user who is in no firm."""
    mine = memberships(request)
    if of_token := getattr(request, "firm_of_token", None):
        return next((each for each in mine if each.firm_id == of_token), None)
    chosen = request.session.get(CHOSEN)
    return next((each for each in mine if str(each.firm_id) == chosen), mine[0] if mine else None)


def managed_firm(request: HttpRequest) -> Firm | None:
    """The firm that the request works in, if the user manages it."""
    membership = current_membership(request)
    return membership.firm if membership and membership.role == Membership.Role.MANAGER else None


def choose_firm(request: HttpRequest, firm_id: UUID) -> bool:
    """Work in this firm from now on; False where the user is no member of it."""
    if not any(each.firm_id == firm_id for each in memberships(request)):
        return False
    request.session[CHOSEN] = str(firm_id)
    return True


def firms_to_choose(request: HttpRequest) -> dict[str, object]:
    """A context processor: the user's memberships where there are several, and the one that counts now."""
    user = getattr(request, "user", None)  # a request may be refused before it is known whose it is
    if user is None or not user.is_authenticated or len(memberships(request)) < 2:
        return {}
    return {"my_firms": memberships(request), "chosen_firm": current_membership(request)}
