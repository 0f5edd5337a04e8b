"""Sign at once, change rows behind the service's back, and see what a look at the log says of it."""

from datetime import datetime

from django.db import connection

from records.log_check import look_at_log
from records.models import SignedRecord
from records.services.signing import Attachments, sign
from records.services.to_sign import Signer, document_to_sign
from shared.orm import triggers

AT = datetime.fromisoformat("2026-09-15T09:00:00-07:00")


def sign_now(treatment, membership) -> SignedRecord:
    treatment.refresh_from_db()
    signer = Signer(membership.user)
    return sign(treatment, document_to_sign(treatment, signer), Attachments(), signer, treatment.revision)


def broken(firm) -> list[tuple[str, str]]:
    return [(one.whose, one.fault.wording) for one in look_at_log(firm).broken]


def by_sql(statement: str, *values: object) -> None:
    """Change rows as who holds the database file can: with the triggers down."""
    triggers.remove(connection)
    with connection.cursor() as cursor:
        cursor.execute(statement, values)


def key_of(row) -> str:
    return row.pk.hex if connection.vendor == "sqlite" else str(row.pk)
