"""Put notices into the outbox. Queueing the same ones again changes nothing."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from zoneinfo import ZoneInfo

from django.db import transaction

from records.models import Attempt, AuditEntry, KeptBytes, NotByMeans, Notice, NoticeFile, Treatment, User
from records.models.notices import BY_MACHINE
from records.outbox.folded import folded, on_one_line, reached_at
from records.outbox.outdated import withdraw_outdated
from records.outbox.piece import Piece
from records.outbox.results import result
from records.outbox.told_before import told_before
from records.permissions import demand
from records.services.audit import note
from records.services.drafts import lock
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest

AT_ONCE = 200


def queue(treatment: Treatment, pieces: Iterable[Piece], by: User) -> int:
    """How many of the pieces go out anew; what goes by machine is sent soon after.

    A notice that was withdrawn before anything of it went out, or did not come, is ready again. One to a
    person who does not want it by this means is kept as not delivered, with a task for the office. Of several
    that tell the same person of the same visit the last one goes out; one beside a notice that went out and
    of which its sender did not know, does not. What still waits and names another time than the planned one
    is withdrawn. Raises PermissionDenied.
    """
    from records.outbox.tasks import send_soon

    demand(by, "records.send_notices", treatment)
    new, rest = 0, iter(pieces)
    while some := list(islice(rest, AT_ONCE)):
        new += _queue_some(treatment, some, by)
    withdraw_outdated(treatment, by)
    if new:
        note(AuditEntry.Kind.CREATED, treatment, firm=treatment.firm, by=by, reason="notices")
    transaction.on_commit(lambda: send_soon(treatment.firm))
    return new


def key_of(treatment: Treatment, piece: Piece) -> str:
    """The same for the same words to the same person about the same hours of a day at the same place."""
    zone = ZoneInfo(treatment.site.time_zone or treatment.firm.time_zone)
    same = {
        "person": str(piece.row) if piece.row else folded(piece.name),
        "site": str(treatment.site_id),
        "day": piece.planned_at.astimezone(zone).date().isoformat(),
        "hours": [moment.timestamp().hex() for moment in (piece.planned_at, piece.until) if moment],
        "digest": piece.digest,
    }
    return digest(canonical_bytes(same | ({"replaces": str(piece.replaces)} if piece.replaces else {})))


@transaction.atomic
def _queue_some(treatment: Treatment, pieces: Sequence[Piece], by: User) -> int:
    locked = lock(treatment)
    told = told_before(locked, pieces)
    by_key = {key: piece for piece in pieces if not told.unknown_to(key := key_of(locked, piece), piece)}
    known = {each.key: each for each in Notice.objects.for_firm(locked.firm).filter(key__in=by_key)}
    new = {key: _row(locked, key, piece, by) for key, piece in by_key.items() if key not in known}
    Notice.objects.bulk_create(new.values())
    NoticeFile.objects.bulk_create(_files(new, by_key))
    _mark_not_wanted(locked, list(new.values()))
    revived = {key: each for key, each in known.items() if _revive(each, by)}
    _mark_not_wanted(locked, list(revived.values()))
    for key in (*new, *revived):
        for one in told.waiting(key, by_key[key]):
            result(one, Attempt.Kind.WITHDRAWN, by=by)
    return len(new) + len(revived)


def _row(treatment: Treatment, key: str, piece: Piece, by: User) -> Notice:
    return Notice(
        firm=treatment.firm,
        treatment=treatment,
        site=treatment.site,
        key=key,
        digest=piece.digest,
        to=piece.to,
        row=piece.row,
        name=on_one_line(piece.name)[:200],
        address=list(piece.address),
        email=piece.email.strip(),
        phone=piece.phone.strip()[:40],
        means=piece.means,
        languages=list(piece.languages),
        subject=on_one_line(piece.subject)[:300],
        text=piece.text,
        planned_at=piece.planned_at,
        until=piece.until,
        alternate_dates=[day.isoformat() for day in piece.alternate_dates],
        rules=list(piece.rules),
        latest=piece.latest,
        called_off=piece.called_off,
        states=list(piece.states),
        stated=piece.stated,
        made_by=by,
        next_try=clock.now(),
    )


def _files(new: dict[str, Notice], by_key: dict[str, Piece]) -> Iterator[NoticeFile]:
    """The attachments; bytes that are kept already are kept once."""
    kept: dict[str, KeptBytes] = {}
    for key, notice in new.items():
        for place, one in enumerate(by_key[key].attachments):
            named = digest(one.content)
            if named not in kept:
                rows = KeptBytes.objects.for_firm(notice.firm).defer("content")
                kept[named] = rows.filter(digest=named).first() or KeptBytes.objects.create(
                    firm=notice.firm, digest=named, content=one.content
                )
            name = on_one_line(one.name)[:200]
            yield NoticeFile(
                firm=notice.firm,
                notice=notice,
                place=place,
                name=name,
                media_type=one.media_type,
                kept=kept[named],
            )


def _mark_not_wanted(treatment: Treatment, notices: Sequence[Notice]) -> None:
    reached = {each.pk: reached_at(each.means, each.email, each.phone) for each in notices}
    asked = NotByMeans.objects.for_firm(treatment.firm).filter(reached__in={*reached.values()} - {""})
    not_wanted = set(asked.values_list("means", "reached"))
    for each in notices:
        if (each.means, reached[each.pk]) in not_wanted:
            result(each, Attempt.Kind.NOT_WANTED)
        elif each.means in BY_MACHINE and not reached[each.pk]:
            result(each, Attempt.Kind.REFUSED, "no-address")


def _revive(notice: Notice, by: User) -> bool:
    """Whether it goes out after all."""
    if notice.state not in (Notice.State.WITHDRAWN, Notice.State.REFUSED) or notice.gone_out:
        return False
    result(notice, Attempt.Kind.AGAIN, by=by)
    return True
