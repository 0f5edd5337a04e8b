"""Erase what incidents say in words. That they happened, when, and who was told when, stays."""

from django.db import transaction

from records.models import Incident, IncidentEntry, IncidentErasure, Treatment

WORDS = ("place", "description", "affected", "names", "action")


@transaction.atomic
def erase_incidents_of(treatment: Treatment) -> int:
    """Those of a treatment that are not erased yet; how many they were."""
    rows = list(Incident.objects.for_firm(treatment.firm).filter(treatment=treatment, erasure=None))
    for incident in rows:
        IncidentErasure.objects.create(firm=incident.firm, incident=incident)
        IncidentEntry.objects.for_firm(incident.firm).filter(incident=incident).update(to="", text="")
        for name in WORDS:
            setattr(incident, name, "")
        incident.save(update_fields=WORDS)
    return len(rows)
