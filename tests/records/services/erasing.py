"""Erase a treatment after its term, and stand in for who says so without having the right to."""

from datetime import UTC, date, datetime

from records.document.section_lines import without
from records.models import Erasure, SignedRecord, Treatment
from records.services.erasing import erase
from shared import clock

UNTIL, AFTER = date(2028, 9, 14), date(2028, 9, 15)
THEN = datetime(2028, 9, 15, 20, tzinfo=UTC)
UNDER = ["us-wa/retention/seven-years"]
SET_LINES = "UPDATE records_signedrecord SET section_lines = %s"


def versions(treatment: Treatment) -> list[SignedRecord]:
    return list(SignedRecord.objects.for_firm(treatment.firm).filter(treatment=treatment).order_by("version"))


def erased(treatment: Treatment) -> Treatment:
    with clock.at(THEN):
        erase(treatment, UNTIL, UNDER, AFTER)
    return Treatment.objects.for_firm(treatment.firm).get(pk=treatment.pk)


def witness(treatment: Treatment, on: date = AFTER) -> Erasure:
    """An erasure that names two sections, with the sections still there."""
    return Erasure.objects.create(
        firm=treatment.firm, treatment=treatment, sections=["customer", "site"], kept_until=UNTIL,
        under=UNDER, on=on,
    )  # fmt: skip


def lines_without(treatment: Treatment, *names: str) -> bytes:
    return without(bytes(versions(treatment)[0].section_lines), names)
