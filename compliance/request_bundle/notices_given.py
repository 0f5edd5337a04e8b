"""The notices of a treatment with what became of each. Who lives near is a number and a digest, and no more."""

from collections.abc import Iterator

from compliance.request_bundle.beside_words import NOTICES_SENT
from compliance.request_bundle.worked_out import OfRecord
from records.models import Attempt, Notice, Treatment

WITH_WORDS = ("customer", "occupant", "agency", "school")
"""Whom a notice names as somebody of the treatment itself, or as an office."""
NEEDS = frozenset({"notices", "customer", "site", "people"})
"""A notice names them all: where one of these is left out, no notice goes along."""
NAMES = list(NOTICES_SENT)


def notices_of(
    record: OfRecord, treatment: Treatment, withheld: set[str]
) -> Iterator[tuple[Notice, list[str]]]:
    """Each notice of the treatment with its line of the table."""
    if NEEDS & withheld:
        return
    rows = Notice.objects.for_firm(treatment.firm).filter(treatment=treatment).prefetch_related("attempts")
    for notice in rows.order_by("made_at", "uuid"):
        known = notice.to in WITH_WORDS
        attempts = "; ".join(_said(each, known) for each in notice.attempts.all())
        times = (notice.made_at, notice.planned_at, notice.sent_at, notice.delivered_at)
        made, planned, sent, delivered = (at.isoformat(timespec="seconds") if at else "" for at in times)
        yield notice, [
            record.number, str(notice.pk), notice.to, notice.name if known else "", notice.means,
            ", ".join(notice.languages), made, planned, notice.state, sent, delivered, notice.digest,
            file_name(record, notice) if known else "", attempts,
        ]  # fmt: skip


def file_name(record: OfRecord, notice: Notice) -> str:
    return f"notices/{record.number}-{str(notice.pk)[:8]}.txt"


def words_of(notice: Notice) -> bytes:
    return f"{notice.subject}\n\n{notice.text}\n".encode()


def _said(attempt: Attempt, with_answer: bool) -> str:
    answer = f" ({attempt.answer})" if with_answer and attempt.answer else ""
    return f"{attempt.at.isoformat(timespec='seconds')} {attempt.kind}{answer}"
