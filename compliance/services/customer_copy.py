"""The customer's copy of a signed record: the record sheet, and what to look out for after the work."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from compliance.notices.duty import Later
from compliance.papers.customer import after, draw, text_of
from compliance.papers.notice.addresses import address_lines
from compliance.services.live import LIVE
from compliance.services.notice_plan import plan_of
from records.document.types import Address
from records.models import Customer, NotByMeans, Notice, SignedRecord, Treatment, User
from records.outbox.folded import reached_at
from records.outbox.piece import Attachment, Piece
from records.outbox.queueing import queue
from records.outbox.ways_out import closed
from records.reference import address_part
from records.selectors import document_of
from records.services.drafts import lock
from shared import clock

PDF = "application/pdf"
COPY = "copy-given"
Sheet = Callable[[SignedRecord, str], bytes]
"""Draws the record sheet in a language, as it leaves the firm."""


@dataclass(frozen=True)
class CustomerCopy:
    """What can be done to give the customer of a signed record their copy."""

    record: SignedRecord

    @property
    def treatment(self) -> Treatment:
        return self.record.treatment

    @property
    def customer(self) -> Customer:
        return self.treatment.site.customer

    @property
    def address(self) -> tuple[str, ...]:
        return address_lines(Address.model_validate(address_part(self.customer) or {}))

    @property
    def ways(self) -> tuple[str, ...]:
        """By e-mail, unless they do not want it or none goes out; by letter."""
        reached = reached_at("email", self.customer.email, "")
        not_wanted = NotByMeans.objects.for_firm(self.record.firm).filter(means="email", reached=reached)
        goes_out = "email" not in closed(self.record.firm)
        by_mail = goes_out and bool(self.customer.email) and not not_wanted.exists()
        return tuple(one for one, there in (("email", by_mail), ("letter", bool(self.address))) if there)

    @property
    def asked(self) -> tuple[Later, ...]:
        """The rules that want a copy given."""
        later = plan_of(self.treatment).duties.later
        return tuple(one for one in later if one.what == COPY and one.applies)

    @property
    def sent(self) -> list[Notice]:
        """The copies of this version that went out or will."""
        rows = Notice.objects.for_firm(self.record.firm).filter(treatment=self.treatment, to="customer")
        return list(rows.filter(state__in=LIVE, subject__in=self._subjects().values()))

    def send(self, means: str, language: str, sheet: Sheet, by: User) -> bool:
        """Queue the copy; False where the same is on its way already. Raises PermissionDenied, and ValueError
        for a means by which the customer can't be reached."""
        if means not in self.ways:
            raise ValueError(f"the customer can't be reached by {means}")
        with transaction.atomic():
            lock(self.treatment)
            subject = self._subjects()[language]
            if any(one.means == means and one.subject == subject for one in self.sent):
                return False
            return bool(queue(self.treatment, [self._piece(means, language, sheet)], by))

    def _piece(self, means: str, language: str, sheet: Sheet) -> Piece:
        customer, asked = self.customer, self.asked
        dues = [one.due for one in asked if one.due and one.due > clock.now()]
        return Piece(
            to="customer",
            name=customer.name,
            address=self.address,
            email=customer.email,
            phone=customer.phone,
            means=means,
            languages=(language,),
            subject=self._subjects()[language],
            text=text_of(after(document_of(self.record), language))[1],
            attachments=tuple(self._papers(language, sheet)),
            planned_at=self._visit(),
            until=None,
            alternate_dates=(),
            rules=tuple(dict.fromkeys(one.rule for one in asked)),
            latest=min(dues, default=None),
        )

    def _papers(self, language: str, sheet: Sheet) -> Iterator[Attachment]:
        drawn = draw(after(document_of(self.record), language), self.record.firm.paper)
        yield Attachment(f"after-the-work-{language}.pdf", PDF, drawn)
        name = f"{self.treatment.number}-{self.record.version}-record-sheet-{language}.pdf"
        yield Attachment(name, PDF, sheet(self.record, language))

    def _visit(self) -> datetime:
        """When it was planned, else when it began: what the notice was about."""
        timing: Mapping[str, Any] = document_of(self.record).get("timing") or {}
        started = timing.get("started_at")
        return self.treatment.planned_at or (started and datetime.fromisoformat(started)) or clock.now()

    def _subjects(self) -> Mapping[str, str]:
        """By language; a corrected version has its own."""
        return {
            one: f"{text_of(after(document_of(self.record), one))[0]}: "
            f"{self.treatment.number}, {self.record.version}"
            for one in ("en", "es")
        }
