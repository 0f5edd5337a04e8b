"""Incidents that somebody must be told of, lots that nobody is to use, and duties that were not met."""

from collections.abc import Iterable
from datetime import timedelta
from uuid import UUID

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from compliance.models import StoredCheck
from compliance.pages.desk.needs import MOST, Group, Need, group
from compliance.pages.register import titles_of
from compliance.services.incidents import DueIncident
from compliance.services.incidents import due as incidents_due
from records.document.words import label
from records.lots_aside import planned_with_lots_aside
from records.models import Firm, Incident, SignedRecord, Treatment, TreatmentTerm
from records.models.treatments import SIGNED_STATES
from records.moments_said import said_moment
from records.register.terms import NOT_MET
from records.services.incidents_on_records import told_on_records
from shared import clock

LOOKED_BACK = timedelta(days=30)
"""Older ones stand in the register: our own measure of what a manager still acts on."""
MOST_TITLES = 3


def incidents(firm: Firm, language: str) -> Group:
    now = clock.now()
    needs = [
        Need(
            what=_which(each.incident, language),
            about=_told_whom(each, language),
            address=reverse("incident", kwargs={"incident": each.incident.pk}),
            due=each.due_at,
            late=each.due_at <= now,
        )
        for each in incidents_due(firm, now)
    ]
    needs += [
        Need(
            what=label("incident_kind", each.kind, language).capitalize() if each.kind else _("Incident"),
            about=f"{each.treatment.number} · {each.treatment.site_name}",
            address=reverse("incidents"),
            state=_("Told on the record, and not opened yet"),
        )
        for each in told_on_records(firm)
    ]
    return group("incidents", _("Incidents that somebody may have to be told of"), needs, reverse("incidents"))


def _which(incident: Incident, language: str) -> str:
    """What it was, when and where: two of a kind are told apart."""
    kind = label("incident_kind", incident.kind, language).capitalize()
    of = incident.treatment
    where = incident.place or (f"{of.number} · {of.site_name}" if of else "")
    at = said_moment(incident.happened_at, incident.time_zone)
    return ", ".join(part for part in (kind, at, where) if part)


def _told_whom(each: DueIncident, language: str) -> str:
    """Who may have to be told, each once, and in which case the first of them: whether it is one, a person
    judges."""
    who = dict.fromkeys(duty.report.to.say(language) for duty in each.duties)
    said = {"who": ", ".join(list(who)[:MOST_TITLES]), "case": each.duties[0].report.binds.say(language)}
    return _("May have to be told: %(who)s. The first if this is so: %(case)s") % said


def lots(firm: Firm, _language: str) -> Group:
    """Planned treatments that name a lot which nobody is to use, as after a recall."""
    needs = [
        Need(
            what=f"{each.treatment.number} · {each.treatment.site_name}",
            about="; ".join(f"{lot.product.name}, {lot.number}: {lot.move.why}" for lot in each.lots),
            address=reverse("treatment", kwargs={"uuid": each.treatment.pk}),
            due=each.treatment.planned_at,
            late=each.treatment.planned_at < clock.now(),
        )
        for each in planned_with_lots_aside(firm)
    ]
    return group("lots", _("Planned with a lot that is set aside, not to be used"), needs, reverse("stock"))


def findings(firm: Firm, language: str) -> Group:
    """Records signed in the last month, of whatever day they are, whose last check found that a required rule
    was not met. What was signed last comes first."""
    newest = SignedRecord.objects.for_firm(firm).filter(replaced_by=None)
    of_late = newest.filter(received_at__gte=clock.now() - LOOKED_BACK)
    rows = Treatment.objects.for_firm(firm).filter(outcome=StoredCheck.Outcome.NOT_MET, state__in=SIGNED_STATES)
    found = rows.filter(signed_records__in=of_late).order_by("-signed_records__received_at")
    found = found.defer("document", "unread")
    shown = list(found[:MOST])
    rules = _rules_of(firm, shown)
    titles = titles_of(firm, [rule for each in rules.values() for rule in each], language)
    needs = [
        Need(
            what=f"{each.number} · {each.site_name}",
            about="; ".join(titles[rule] for rule in rules.get(each.pk, [])[:MOST_TITLES]),
            address=reverse("treatment", kwargs={"uuid": each.pk}),
            state=_("Not met"),
        )
        for each in shown
    ]
    where = f"{reverse('register')}?outcome=not_met"
    return group("findings", _("Signed in the last 30 days with a duty not met"), needs, where, found.count())


def _rules_of(firm: Firm, treatments: Iterable[Treatment]) -> dict[UUID, list[str]]:
    """The rules that each was found not to meet."""
    links = TreatmentTerm.objects.for_firm(firm).filter(
        treatment__in=[each.pk for each in treatments], term__kind=NOT_MET
    )
    found: dict[UUID, list[str]] = {}
    for treatment, rule in links.order_by("term__written").values_list("treatment", "term__written"):
        found.setdefault(treatment, []).append(rule)
    return found
