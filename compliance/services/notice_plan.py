"""Who must be told of a treatment of the firm, as it is planned or for another start."""

from datetime import datetime

from compliance.notices.timeline import Plan
from compliance.notices.told import told_in
from compliance.pack_reader import registered_packs
from compliance.services.check import context_of, today
from compliance.services.notices_sent import known_notices, told_of
from compliance.services.own_rules import pack_in_use
from records.document.days import treatment_day
from records.document.reader import read
from records.models import Treatment


def plan_of(treatment: Treatment) -> Plan:
    """The treatment as its document states it, with the notices that were sent from here or stand on it."""
    document = read(treatment.document)
    day = treatment_day(document) or treatment.day
    own = pack_in_use(treatment.firm)
    packs = [*registered_packs(), *([own] if own else [])]
    context = context_of(treatment, day, today(treatment))
    sent = tuple(told_of(treatment, context))
    return Plan(document, context, packs, (*sent, *told_in(document, besides=known_notices(treatment))))


def moved_plan(plan: Plan, treatment: Treatment, start: datetime) -> Plan:
    """The same for another start, with what the firm knows of that day. Nothing is saved."""
    return plan.moved_to(start, context_of(treatment, start.date(), today(treatment)))
