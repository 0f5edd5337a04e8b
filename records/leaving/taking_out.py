"""Take everything of a firm out into a file, and note that it was done."""

from pathlib import Path

from records.backup.archive import written_whole
from records.backup.making import refuse_place
from records.backup.wordings import BackupError
from records.leaving.writing import Tell, Written, write_firm
from records.models import AuditEntry, Firm
from records.services.audit import note

REASON = "way-out"


def take_out(firm: Firm, file: Path) -> Written:
    """By the machine's owner, anywhere but among the service's own files. Raises BackupError."""
    refuse_place(file)
    note(AuditEntry.Kind.EXPORTED, firm, firm=firm, reason=REASON)
    return written_to(firm, file)


def written_to(firm: Firm, file: Path, tell: Tell = lambda _done, _of: None) -> Written:
    """A file has its name only once all of it is on the disk. Raises BackupError."""
    try:
        with written_whole(file) as out:
            return write_firm(firm, out, tell)
    except OSError as error:
        raise BackupError("backup/unwritable", file=str(file), why=error.strerror or str(error)) from error
