"""A firm with very many signed treatments that are found by the same terms, and what lies near them."""

import random
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple
from uuid import uuid4

from django.db import connection, transaction

from compliance.models import StoredCheck
from compliance.stored_register import open_rules
from records.document.reader import read
from records.models import LegalHold, Membership, SignedFollowUp, SignedRecord, Site, Treatment
from records.register.terms import CANT_TELL, NOT_MET, Term, of_rules, terms_of
from records.selectors import document_of
from records.services.findable import find_new_by
from records.services.follow_ups import sign_follow_up
from records.services.projection import set_columns
from records.services.to_sign import Signer
from shared import clock
from tests.factories import CustomerFactory, SiteFactory
from tests.faults.kill_at_random import sign
from tests.faults.recheck_at_scale import another, stating
from tests.faults.sign_and_die import planned

BATCH = 500
SITES = 200
BEFORE, CAME, SINCE = (datetime(2026, 9, day, 16, 0, tzinfo=UTC) for day in (15, 20, 25))
FIRST_DAY, DAYS = date(2026, 5, 1), 100
LINKED = """
    INSERT INTO records_treatmentterm (firm_id, term_id, treatment_id, day)
    SELECT t.firm_id, l.term_id, t.uuid, t.day FROM records_treatment t JOIN records_treatmentterm l
    ON l.treatment_id = %s AND l.treatment_id <> t.uuid
    WHERE t.number LIKE 'N-%%' AND CAST(substr(t.number, 3) AS INTEGER) BETWEEN %s AND %s
"""


def _key(row: Treatment) -> object:
    return row.pk if connection.features.has_native_uuid_field else row.pk.hex


class Stated(NamedTuple):
    """A signed record that states an example, its check, and by what the register finds it."""

    check: StoredCheck
    row: Treatment
    terms: set[Term]


class Register:
    """A firm's signed treatments, each of the example that most is said of."""

    def __init__(self, member: Membership) -> None:
        self.member, self.firm = member, member.firm
        with clock.at(BEFORE):
            sign(planned(member))
        first = StoredCheck.across_firms.get()
        self.signed = first.treatment
        self.full, self.other = (self.stated(first, name) for name in ("full", "metric"))
        self.sites = self._sites()
        self.chance = random.Random(20260920)
        self.made = 0

    def stated(self, first: StoredCheck, name: str) -> Stated:
        check = stating(first, name)
        check.at = check.signed_record.received_at = BEFORE
        plain = document_of(check.signed_record)
        document = read(plain)
        row = another(first.treatment, document=plain, state="signed", outcome=check.outcome)
        set_columns(row, document)
        not_met, cant_tell = open_rules(check.stored)
        open_ones = of_rules(NOT_MET, not_met) | of_rules(CANT_TELL, cant_tell)
        return Stated(check, row, terms_of(document) | open_ones)

    def _sites(self) -> list[Site]:
        customer = CustomerFactory(firm=self.firm, name="A. Marlowe")
        places = {"latitude": "47.1000", "firm": self.firm, "customer": customer}
        return [SiteFactory(**places, longitude=f"-122.9{number:03}") for number in range(SITES)]

    @transaction.atomic
    def add(self, many: int, stated: Stated, state: str, day: date | None = None) -> list[Treatment]:
        """So many with their records, checks and terms."""
        rows = [self.row(stated, state, day) for _ in range(many)]
        checks = [self.check(stated, row) for row in rows]
        Treatment.across_firms.bulk_create(rows)
        self.found_by(rows, stated)
        if state not in ("draft", "brought-in"):
            SignedRecord.across_firms.bulk_create(check.signed_record for check in checks)
            StoredCheck.across_firms.bulk_create(checks)
        return rows

    def correct(self, rows: list[Treatment]) -> None:
        """A version of each is signed since the request came."""
        for row in rows:
            before = SignedRecord.objects.for_firm(self.firm).get(treatment=row)
            made = {
                "version": 2,
                "kind": "corrected",
                "replaces": before,
                "received_at": SINCE,
                "reason": "so",
            }
            another(before, digest=f"sha256:{uuid4()}", **made).save(force_insert=True)

    def found_by(self, rows: list[Treatment], stated: Stated) -> None:
        """All by the same terms: the database itself links them as the first one is."""
        find_new_by(self.firm, [(rows[0], stated.terms)])
        with connection.cursor() as cursor:
            cursor.execute(LINKED, [_key(rows[0]), rows[0].number[2:], rows[-1].number[2:]])

    def row(self, stated: Stated, state: str, day: date | None) -> Treatment:
        self.made += 1
        day = day or FIRST_DAY + timedelta(days=self.chance.randrange(DAYS))
        site = self.chance.choice(self.sites)
        return another(stated.row, number=f"N-{self.made}", state=state, day=day, site_id=site.pk)

    def check(self, stated: Stated, row: Treatment) -> StoredCheck:
        like = stated.check
        record = another(like.signed_record, treatment=row, digest=f"sha256:{uuid4()}")
        return another(like, treatment=row, signed_record=record)


def fill(member: Membership, many: int) -> None:
    """So many of which a product, a customer, a rule and words are the same, and beside them what is near."""
    register = Register(member)
    full, some = register.full, many // 40
    for state in ("void", "correcting", "corrected"):
        rows = register.add(some, full, state)
    register.correct(rows)
    while (left := many - some - register.made) > 0:
        rows = register.add(min(BATCH, left), full, "signed")
    member.user.refresh_from_db()
    for row in rows[:some]:
        holds = {"firm": register.firm, "treatment": row, "reason": "a dispute", "by": member.user}
        LegalHold.across_firms.create(**holds)
    with clock.at(SINCE):
        first = sign_follow_up(register.signed, Signer(member.user), kind="note", at=SINCE, detail="rinsed")
    some_of_them = [row.pk for row in rows[1:some]]
    records = SignedRecord.objects.for_firm(register.firm).filter(treatment__in=some_of_them)
    SignedFollowUp.across_firms.bulk_create(
        another(first, follows=record, digest=f"sha256:{uuid4()}") for record in records
    )
    register.add(some, full, "draft")
    register.add(some, full, "brought-in")
    register.add(some, full, "signed", FIRST_DAY - timedelta(days=3))
    _changed(register, some)


def _changed(register: Register, many: int) -> None:
    """What was signed as the others, and corrected since to something else."""
    with transaction.atomic():
        rows = [register.row(register.other, "corrected", None) for _ in range(many)]
        checks = [register.check(register.full, row) for row in rows]
        Treatment.across_firms.bulk_create(rows)
        register.found_by(rows, register.other)
        SignedRecord.across_firms.bulk_create(check.signed_record for check in checks)
        StoredCheck.across_firms.bulk_create(checks)
        register.correct(rows)
