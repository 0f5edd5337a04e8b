"""What is known of people near a site goes when no treatment needs it any more.

What an authority's newer list no longer names goes when that list is taken in; here goes what is left over.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.db import transaction
from django.db.models import Exists, OuterRef

from records.models import AuditEntry, Firm, PeopleFile, Register, Site, Treatment
from records.services.audit import Kind, Thing, change, note
from records.services.findable import forget_unused_terms
from shared import clock

A_DAY = timedelta(days=1)
_OF_A_SITE = ("neighbours", "occupants", "parcels", "neighbour_lists", "people_files")


@dataclass(frozen=True)
class Forgotten:
    """How many sites, registers and files that waited gave up what they said of people."""

    sites: int
    registers: int
    files: int


@transaction.atomic
def forget_people(firm: Firm) -> Forgotten:
    """Take out what was not written in the last PEOPLE_NEAR_DAYS days, and is needed by no treatment that is
    planned or was due in them: who is near a site, and registers of places where none is. A file that nobody
    took within a day goes, too, and so do names by which the register finds nothing any more."""
    now = clock.now()
    since = now - timedelta(days=settings.PEOPLE_NEAR_DAYS)
    needed = _needed_sites(firm, since)
    sites = _forget_sites(firm, needed, since)
    registers = _forget_registers(firm, needed, since)
    waiting = PeopleFile.objects.for_firm(firm).filter(taken_at=None, at__lt=now - A_DAY)
    files = waiting.count()
    waiting.delete()
    forget_unused_terms(firm)
    return Forgotten(sites, registers, files)


def _needed_sites(firm: Firm, since: datetime) -> list[Site]:
    due = Treatment.objects.for_firm(firm).filter(site=OuterRef("pk"), day__gte=since.date())
    return list(Site.objects.for_firm(firm).filter(Exists(due)))


def _forget_sites(firm: Firm, needed: list[Site], since: datetime) -> int:
    count = 0
    for site in Site.objects.for_firm(firm).exclude(pk__in=[each.pk for each in needed]):
        gone = {name: number for name in _OF_A_SITE if (number := getattr(site, name).count())}
        if not gone or _written_since(site, since):
            continue
        for name in gone:
            getattr(site, name).all().delete()
        note(Kind.ERASED, site, firm=firm, changes=[change(name, number, 0) for name, number in gone.items()])
        count += 1
    return count


def _written_since(site: Site, since: datetime) -> bool:
    """Whether somebody wrote into its lists; a look is no writing."""
    rows = [str(row.pk) for name in ("neighbours", "occupants") for row in getattr(site, name).all()]
    written = AuditEntry.objects.for_firm(site.firm).filter(thing_id__in=rows, at__gte=since)
    stated = site.neighbour_lists.filter(at__gte=since) or site.people_files.filter(at__gte=since)
    return bool(stated) or written.filter(kind__in=(Kind.CREATED, Kind.CHANGED)).exists()


def _forget_registers(firm: Firm, needed: list[Site], since: datetime) -> int:
    places = {place for site in needed for place in site.jurisdictions}
    others = Register.objects.for_firm(firm).exclude(authority__in=places)
    registers = [each for each in others if not each.files.filter(at__gte=since).exists()]
    for register in registers:
        gone = [change("persons", register.persons.count(), 0)]
        note(Kind.ERASED, Thing.of(register), firm=firm, changes=gone)
        register.delete()
    return len(registers)
