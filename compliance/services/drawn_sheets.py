"""Record sheets as they leave the firm: signed as files, with the record in them as data."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any

from django.conf import settings

from compliance.papers import record_sheet
from records.bundle.writer import Beside
from records.models import SignedRecord
from records.services.certificates import paper_key
from records.services.time_stamps import with_time_stamp
from shared.paper.signed_pdf import signed_pdf


def drawn_sheet(record: SignedRecord, file: dict[str, Any], language: str) -> bytes:
    """The record sheet of a record file, as it leaves the firm: signed, with the file in it."""
    key = paper_key(record.firm)
    signed_as = record_sheet.SignedAs("" if key.is_self_made else key.issuer)
    drawn = record_sheet.build(file, language, record.firm.paper, settings.BASE_ADDRESS, signed_as)
    return with_time_stamp(partial(signed_pdf, drawn, record_sheet.attached(file, language), key))


def sheet_name(record: SignedRecord, language: str) -> str:
    """Its name in a bundle."""
    return f"sheets/{record.treatment.number}-v{record.version}-{language}.pdf"


def sheets_beside(languages: Sequence[str]) -> Beside:
    """What draws the record sheets that lie beside a record's data in a bundle."""

    def drawn(record: SignedRecord, file: dict[str, Any]) -> Iterator[tuple[str, bytes]]:
        for language in languages:
            yield sheet_name(record, language), drawn_sheet(record, file, language)

    return drawn
