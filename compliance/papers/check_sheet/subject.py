"""The record that a check sheet is about, and the stored check that its file carries."""

from collections.abc import Iterator
from typing import Any

from compliance.papers.check_sheet.content import CheckSubject
from records.document.faults import DocumentFaults, Fault
from records.document.kinds import shown
from records.document.record_file import RecordFile
from records.document.types import TreatmentDocument


def subject_of(document: TreatmentDocument, file: RecordFile | None = None) -> CheckSubject:
    """How the sheet names a document, or the record that a file holds, with the answers given."""
    return CheckSubject(
        firm=(document.firm and document.firm.name) or "",
        number=document.record.number or "",
        version=str(document.record.version or 1),
        signed=bool(file and file.signatures),
        answers=tuple(_answers(file)) if file else (),
    )


def _answers(file: RecordFile) -> Iterator[dict[str, Any]]:
    answers = file.record.get("answers") or []
    for place, answer in enumerate(answers if isinstance(answers, list) else [answers]):
        whole = isinstance(answer, dict) and all(isinstance(answer.get(one), str) for one in ("rule", "reason"))
        if not whole:
            fault = Fault(f"record.answers[{place}]", "signed/wrong_shape", {"got": shown(answer)})
            raise DocumentFaults([fault])
        yield answer


def stored_check_of(file: RecordFile) -> dict[str, Any]:
    """The stored check in a record file; reading has verified that the record binds it.

    Raises DocumentFaults where there is none.
    """
    if file.check is None:
        raise DocumentFaults([Fault("check", "document/missing")])
    return file.check
