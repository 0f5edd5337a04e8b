"""The rules hear of neighbours and registered persons what the firm's records know, and nothing else."""

from datetime import date

from compliance.services.check import context_of
from records.models import NeighbourList
from tests.factories import NeighbourFactory, RegisteredPersonFactory, RegisterFactory


def around(treatment):
    return context_of(treatment, treatment.day, treatment.day)


def test_what_nobody_listed_is_unknown_to_the_rules(draft):
    context = around(draft)
    assert context.neighbours is None
    assert context.registered_persons is None


def test_what_was_listed_is_told_to_the_rules(draft, member):
    site = draft.site
    NeighbourList.objects.create(firm=draft.firm, site=site, as_of=date(2026, 9, 1), by=member.user)
    neighbour = NeighbourFactory(firm=draft.firm, site=site, line1="6 Heron Row", abutting=True)
    register = RegisterFactory(firm=draft.firm)
    registered = RegisteredPersonFactory(firm=draft.firm, register=register, line1="6 Heron Row")
    context = around(draft)
    assert [(each.id, each.abutting) for each in context.neighbours] == [(str(neighbour.pk), True)]
    assert [(each.id, each.abutting) for each in context.registered_persons] == [(str(registered.pk), True)]
