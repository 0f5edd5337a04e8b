"""Requests for records that are due, and notices that are late or nearly so."""

from datetime import timedelta

from django.db.models import F
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from compliance.models import RecordsRequest
from compliance.pages.desk.needs import Group, Need, group
from compliance.services.week import coming
from records.models import Firm
from records.outbox.by_hand import open_tasks
from shared import clock

SOON = timedelta(hours=48)


def requests(firm: Firm, _language: str) -> Group:
    now = clock.now()
    rows = RecordsRequest.objects.for_firm(firm).filter(closed_at=None)
    needs = [
        Need(
            what=each.name,
            about=f"{_said_of(each)}: {each.asked_for[:160]}",
            address=reverse("request", kwargs={"asked": each.pk}),
            due=each.due_at,
            late=bool(each.due_at and each.due_at < now),
            state=_("No time set"),
            first=each.asked_by == each.Asker.MEDICAL,
        )
        for each in rows.order_by(F("due_at").asc(nulls_last=True), "received_at")
    ]
    return group("requests", _("Requests for records"), needs, reverse("requests"))


def _said_of(asked: RecordsRequest) -> str:
    by = asked.get_asked_by_display()
    at_once = _("told at once, by phone")
    return f"{by}, {at_once}" if asked.asked_by == asked.Asker.MEDICAL else by


def notices(firm: Firm, _language: str) -> Group:
    """Planned treatments of which somebody has to be told now, and what people have to see to of notices."""
    now = clock.now()
    needs = []
    for each in coming(firm):
        if each.changed or (each.latest and each.latest < now + SOON):
            needs.append(
                Need(
                    what=f"{each.treatment.number} · {each.treatment.site_name}",
                    about=each.treatment.customer_name,
                    address=reverse("prepare_notices", kwargs={"uuid": each.treatment.pk}),
                    due=each.latest,
                    late=each.is_late,
                    state=_("Told otherwise"),
                )
            )
    if tasks := open_tasks(firm).count():
        said = ngettext("One notice waits for a hand", "%(n)d notices wait for a hand", tasks) % {"n": tasks}
        needs.append(Need(said, "", reverse("week_of_notices"), state=_("To be seen to")))
    return group(
        "notices", _("Notices that are late, or must go out within two days"), needs, reverse("week_of_notices")
    )
