"""Where this member enters how a person is reached."""

from django.urls import reverse

from compliance.notices.ways import Contact
from records.models import Membership, Treatment, User
from records.permissions import role_of

EDITS = "records.edit_neighbours"


def where_entered(contact: Contact, treatment: Treatment, user: User) -> str:
    """The address of the page; '' where there is none for this member."""
    if contact.to == "customer" and Membership.Role.MANAGER in role_of(user, treatment):
        return reverse("admin:records_customer_change", args=[treatment.site.customer_id])
    if contact.to not in ("neighbour", "occupant") or not user.has_perm(EDITS, treatment.firm):
        return ""
    if contact.row:
        return reverse(contact.to, kwargs={"site": treatment.site_id, "row": contact.row})
    return reverse(f"new_{contact.to}", kwargs={"site": treatment.site_id})
