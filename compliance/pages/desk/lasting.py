"""Licences and calibrations that end soon, or ended lately."""

from collections.abc import Iterator
from datetime import date, timedelta

from django.db.models import Max, Q
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.pages.desk.needs import Group, Need, group
from compliance.selectors import today_of
from records.models import Firm, Licence, Rig

AHEAD = timedelta(days=60)
CALIBRATED_FOR, CALIBRATED_AHEAD = timedelta(days=365), timedelta(days=30)
"""That a rig is measured once a season: common practice, no source. A label may ask for it sooner."""


def lasting(firm: Firm, _language: str) -> Group:
    today = today_of(firm)
    needs = [*_licences(firm, today), *_calibrations(firm, today)]
    title = gettext_lazy("Licences and calibrations that end soon")
    return group("lasting", title, needs, reverse("admin:index"))


def _licences(firm: Firm, today: date) -> Iterator[Need]:
    """Those that end within two months, and those that ended and were not renewed, of people who work here."""
    rows = Licence.objects.for_firm(firm).exclude(person__active=False).select_related("person")
    newest: dict[tuple[object, ...], Licence] = {}
    for each in rows.order_by("valid_to"):
        key = (each.person_id, each.authority, each.kind.casefold())
        if key not in newest or newest[key].valid_to is not None:
            newest[key] = each
    for each in newest.values():
        if each.valid_to is not None and each.valid_to <= today + AHEAD:
            yield Need(
                what=f"{each.kind} {each.number}",
                about=each.person.name if each.person else firm.name,
                address=_where(each),
                due=each.valid_to,
                late=each.valid_to < today,
            )


def _where(licence: Licence) -> str:
    """Where it is entered: with its person, or with the firm."""
    if licence.person_id:
        return reverse("admin:records_person_change", args=[licence.person_id])
    return reverse("admin:records_firm_change", args=[licence.firm_id])


def _calibrations(firm: Firm, today: date) -> Iterator[Need]:
    rigs = Rig.objects.for_firm(firm).filter(active=True).annotate(measured=Max("calibrations__on"))
    before = today - CALIBRATED_FOR + CALIBRATED_AHEAD
    for each in rigs.filter(Q(measured=None) | Q(measured__lte=before)).order_by("name"):
        due = each.measured + CALIBRATED_FOR if each.measured else None
        yield Need(
            what=_("Measure the output of %(rig)s") % {"rig": each.name},
            about=_("Once a season is common practice; the label or a rule may ask for it sooner."),
            address=reverse("admin:records_rig_change", args=[each.pk]),
            due=due,
            late=due is not None and due < today,
            state=gettext_lazy("Never measured"),
        )
