"""From a list of neighbours to a record whose notices are met: one bounces, one by hand, it moves twice."""

from datetime import date, timedelta

import pytest

from compliance.services.check import check_treatment
from compliance.services.telling import Round
from records.models import Attempt, Notice, NoticeTask
from records.outbox.by_hand import Deed, do
from records.outbox.by_mail import message_id
from records.outbox.returned import read_returned
from records.outbox.returning import take_returned
from records.outbox.sending import send_next
from records.services.neighbours import state_complete
from records.services.people_files import keep_file, take
from tests.compliance.telling.conftest import NEIGHBOURS, PLANNED
from tests.compliance.telling.test_changes import BEYOND, changed, edit, move, newest, tell, tell_change
from tests.records.outbox.conftest import mail_server, waiting  # noqa: F401
from tests.records.outbox.test_returned import report

LIST = """Name,Street,Distance,Abutting,Dwelling,Email,Order
B. Lark,6 Heron Row,20 ft,yes,yes,lark@example.net,2
C. Wren,2 Heron Row,20 ft,yes,yes,,1
D. Fink,8 Heron Row,30 ft,yes,yes,fink@example.net,3
"""


def send_all(firm):
    while send_next(firm):
        pass


def by_hand(treatment, office, name, *kinds):
    for kind in kinds:
        do(newest(treatment, name), Deed(kind), office.user)


@pytest.mark.django_db(transaction=True)
def test_who_is_told_of_a_lawn_in_new_york(
    lawn,
    office,
    member,
    colleague,
    mail_server,  # noqa: F811
    waiting,  # noqa: F811
    days_before,
):
    firm, site = lawn.firm, lawn.site
    file = keep_file(LIST.encode(), "neighbours", "walk", date(2026, 9, 1), colleague.user, firm, site)
    take(file, colleague.user)
    state_complete(site, date(2026, 9, 1), "walk", colleague.user)
    assert {one.contact.name for one in Round(lawn).people if one.is_due} == {
        "A. Marlowe", "B. Lark", "C. Wren", "D. Fink",
    }  # fmt: skip

    tell(lawn, office, "A. Marlowe", "B. Lark", "D. Fink")
    tell(lawn, office, "C. Wren", means="door")
    send_all(firm)
    assert len(mail_server.taken) == 3
    returned = read_returned(report(message_id(newest(lawn, "D. Fink"))))
    assert returned
    take_returned(returned)
    assert NoticeTask.objects.for_firm(firm).get().notice.name == "D. Fink"
    by_hand(lawn, office, "C. Wren", Attempt.Kind.PRINTED, Attempt.Kind.HANDED_OVER)
    days_before.shift(timedelta(minutes=5))
    tell(lawn, office, "D. Fink", means="letter")
    by_hand(lawn, office, "D. Fink", Attempt.Kind.PRINTED, Attempt.Kind.HANDED_OVER)
    assert not [one for one in Round(lawn).people if one.is_due]

    days_before.shift(timedelta(hours=1))
    move(lawn, office, PLANNED + timedelta(days=1))
    assert changed(lawn) == set()
    move(lawn, office, BEYOND)
    assert changed(lawn) == {"A. Marlowe", "B. Lark", "C. Wren", "D. Fink"}
    assert tell_change(lawn, office) == 4
    send_all(firm)
    for name in ("C. Wren", "D. Fink"):
        by_hand(lawn, office, name, Attempt.Kind.PRINTED, Attempt.Kind.HANDED_OVER)
    assert len(mail_server.taken) == 5
    assert changed(lawn) == set()

    days_before.move_to(BEYOND + timedelta(hours=3))
    edit(lawn, member, "timing.started_at", BEYOND.isoformat())
    edit(lawn, member, "timing.finished_at", (BEYOND + timedelta(hours=2)).isoformat())
    found = [one for one in check_treatment(lawn).findings if one.basis.rule == NEIGHBOURS]
    assert {one.outcome.value for one in found} == {"met"}
    assert Notice.objects.for_firm(firm).filter(state="delivered").count() == 4
