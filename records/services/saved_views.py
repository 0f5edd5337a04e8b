"""Keep searches of the register, for oneself or for all members."""

from collections.abc import Mapping

from django.db import transaction
from django.db.models import Q, QuerySet

from records.models import AuditEntry, Firm, SavedView, User
from records.permissions import demand
from records.services.audit import note

MOST = 50
"""Views that one person keeps."""


class TooManyViewsError(ValueError):
    """The person keeps as many as anybody may."""


def views_for(firm: Firm, user: User) -> QuerySet[SavedView]:
    """What this member sees: own ones, and those for all."""
    return SavedView.objects.for_firm(firm).filter(Q(by=user) | Q(shared=True)).select_related("by")


@transaction.atomic
def save_view(firm: Firm, by: User, name: str, search: Mapping[str, str], *, shared: bool) -> SavedView:
    """One of the same name of the same person is replaced. Raises PermissionDenied and TooManyViewsError."""
    demand(by, "records.share_view" if shared else "records.view_treatment", firm)
    Firm.objects.for_firm(firm).select_for_update().get()
    own = SavedView.objects.for_firm(firm).filter(by=by)
    own.filter(name=name).delete()
    if own.count() >= MOST:
        raise TooManyViewsError(name)
    made = SavedView.objects.create(firm=firm, by=by, name=name, search=dict(search), shared=shared)
    note(AuditEntry.Kind.CREATED, made, firm=firm, by=by)
    return made


@transaction.atomic
def remove_view(view: SavedView, by: User) -> None:
    """Raises PermissionDenied for somebody else's, unless it is for all and `by` may share views."""
    if view.by_id != by.pk:
        demand(by, "records.share_view", view)
    note(AuditEntry.Kind.REMOVED, view, firm=view.firm, by=by)
    view.delete()


def may_remove(view: SavedView, by: User) -> bool:
    return view.by_id == by.pk or (view.shared and by.has_perm("records.share_view", view))
