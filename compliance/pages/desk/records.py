"""Work that is over and whose record nobody has signed."""

from datetime import timedelta

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from compliance.pages.desk.needs import MOST, Group, Need, group
from records.models import Firm, Treatment
from shared import clock

A_DAY = timedelta(hours=24)
"""The time after which an unsigned record is late: our own measure; many laws want it made on the day."""


def unsigned(firm: Firm, _language: str) -> Group:
    """Those that were to be done before now, the oldest first: what waits more than a day is late."""
    now = clock.now()
    of = Treatment.State
    rows = Treatment.objects.for_firm(firm).filter(state__in=(of.DRAFT, of.CORRECTING), planned_at__lt=now)
    found = rows.defer("document", "unread").order_by("planned_at")
    needs = [
        Need(
            what=f"{each.number} · {each.site_name}",
            about=each.applicators or each.customer_name,
            address=reverse("treatment", kwargs={"uuid": each.pk}),
            due=each.planned_at + A_DAY,
            late=each.planned_at + A_DAY < now,
        )
        for each in found[:MOST]
    ]
    where = f"{reverse('register')}?state=draft"
    return group("unsigned", _("Records that nobody has signed"), needs, where, found.count())
