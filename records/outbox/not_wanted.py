"""Who does not want to be told by which means, as the firm has written it down; it can be taken out again."""

from django.db import transaction
from django.db.models import QuerySet

from records.models import AuditEntry, Firm, NotByMeans, User
from records.permissions import demand
from records.services.audit import note


def not_wanted(firm: Firm) -> QuerySet[NotByMeans]:
    """The newest first."""
    return NotByMeans.objects.for_firm(firm).select_related("by").order_by("-at", "pk")


@transaction.atomic
def take_out(row: NotByMeans, by: User) -> None:
    """They are told by this means again, from their next notice on. Raises PermissionDenied."""
    demand(by, "records.see_to_notices", row)
    note(AuditEntry.Kind.REMOVED, row, firm=row.firm, by=by)
    row.delete()
