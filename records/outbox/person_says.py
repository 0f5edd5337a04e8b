"""What a person who was told says on their own page, and takes back: tasks for the office, and what their row
says of them from then on."""

from collections.abc import Mapping
from enum import Enum
from typing import Any

from django.db import transaction

from records.models import AuditEntry, Neighbour, NotByMeans, Notice, NoticeTask, Occupant
from records.models.notices import BY_MACHINE
from records.outbox.folded import reached_at
from records.outbox.in_document import write_into_document
from records.outbox.told import Told
from records.services.audit import note
from shared import clock

Kind = NoticeTask.Kind
LONGEST_WORDS, MOST_MESSAGES = 500, 10
"""So long may one message be, and so many may go with each answer."""
_LISTED: Mapping[str, Any] = {"neighbour": Neighbour, "occupant": Occupant}
_OF_THE_ROW = {Kind.SENSITIVE: "sensitive", Kind.BY_PHONE: "wishes_phone"}


class Heard(Enum):
    KEPT = "kept"
    EMPTY = "empty"
    FULL = "full"
    NO_ANSWER = "no_answer"


def answers_to(notice: Notice) -> tuple[NoticeTask.Kind, ...]:
    """What may be answered: whom a machine has told may want to be told another way."""
    other_way = (Kind.OTHER_WAY,) if notice.means in BY_MACHINE else ()
    return (Kind.SENSITIVE, Kind.BY_PHONE, *other_way, Kind.WRONG_ADDRESS)


def language_of(notice: Notice, asked: str) -> str:
    """In which of its languages to speak to the person: their own, else the one asked for, else the first."""
    listed = _LISTED.get(notice.to)
    rows = listed.objects.for_firm(notice.firm).filter(pk=notice.row) if listed and notice.row else None
    own = rows.values_list("language", flat=True).first() if rows is not None else None
    several = [one for one in (own, asked) if one in notice.languages]
    return next(iter([*several, *notice.languages, asked]))


@transaction.atomic
def answer(told: Told, kind: str, words: str) -> Heard:
    """Make the person's answer, or their words alone, a task for the office, which is open again with each
    further message. What was answered already and comes without a word changes nothing."""
    notice = Notice.objects.for_firm(told.notice.firm).select_for_update().get(pk=told.notice.pk)
    if told.over or kind not in (*answers_to(notice), Kind.WORDS):
        return Heard.NO_ANSWER
    said = _as_kept(words)
    if kind == Kind.WORDS and not said:
        return Heard.EMPTY
    task = NoticeTask.objects.for_firm(notice.firm).filter(notice=notice, kind=kind).first()
    if task and not said and task.taken_back_at is None:
        return Heard.KEPT
    task = task or NoticeTask(notice=notice, kind=kind, firm=notice.firm)
    if said and task.messages >= MOST_MESSAGES:
        return Heard.FULL
    task.words = "\n\n".join(part for part in (task.words, said) if part)
    task.messages += bool(said)
    task.at, task.done_at, task.done_by, task.taken_back_at = clock.now(), None, None, None
    task.changed_row = _note(notice, Kind(kind)) or task.changed_row
    task.save()
    return Heard.KEPT


@transaction.atomic
def take_back(told: Told, kind: str) -> Heard:
    """The office has nothing to see to any more, and the person's row says what it said before, unless they
    have said the same of another notice."""
    tasks = NoticeTask.objects.for_firm(told.notice.firm).select_for_update()
    task = tasks.filter(notice=told.notice, kind=kind, taken_back_at=None).first()
    if task is None or told.over or kind not in answers_to(told.notice):
        return Heard.NO_ANSWER
    if task.changed_row and (other := _said_elsewhere(task)):
        other.changed_row = True
        other.save(update_fields=["changed_row"])
    elif task.changed_row:
        _forget(told.notice, Kind(kind))
    task.taken_back_at, task.done_at = clock.now(), task.done_at or clock.now()
    task.changed_row = False
    task.save()
    return Heard.KEPT


def _said_elsewhere(task: NoticeTask) -> NoticeTask | None:
    """The same answer of the same person to another notice, where it stands."""
    notice = task.notice
    standing = NoticeTask.objects.for_firm(task.firm).filter(kind=task.kind, taken_back_at=None)
    others = standing.exclude(pk=task.pk).select_related("notice")
    if task.kind == Kind.OTHER_WAY:
        return next((one for one in others if _not_by(one.notice) == _not_by(notice)), None)
    if task.kind not in _OF_THE_ROW or notice.row is None:
        return None
    return others.filter(notice__to=notice.to, notice__row=notice.row).first()


def _as_kept(words: str) -> str:
    lines = words.replace("\r\n", "\n")[:LONGEST_WORDS]
    return "".join(sign if sign.isprintable() or sign == "\n" else " " for sign in lines).strip()


def _note(notice: Notice, kind: NoticeTask.Kind) -> bool:
    """Whether it is new."""
    if kind == Kind.OTHER_WAY:
        rows = NotByMeans.objects.for_firm(notice.firm)
        return rows.get_or_create(**_not_by(notice), defaults={"firm": notice.firm})[1]
    return _mark_wrong(notice, True) if kind == Kind.WRONG_ADDRESS else _mark_row(notice, kind, said=True)


def _forget(notice: Notice, kind: NoticeTask.Kind) -> None:
    if kind == Kind.OTHER_WAY:
        NotByMeans.objects.for_firm(notice.firm).filter(**_not_by(notice), by=None).delete()
    elif kind == Kind.WRONG_ADDRESS:
        _mark_wrong(notice, False)
    else:
        _mark_row(notice, kind, said=False)


def _mark_wrong(notice: Notice, wrong: bool) -> bool:
    """What came to the wrong address told nobody, and stands in the document no more."""
    Notice.objects.for_firm(notice.firm).filter(pk=notice.pk).update(came_wrong=wrong)
    transaction.on_commit(lambda: write_into_document(notice))
    return True


def _mark_row(notice: Notice, kind: NoticeTask.Kind, said: bool) -> bool:
    """Whether it changes the row; it stands in who did what as the person's own word."""
    member, listed = _OF_THE_ROW.get(kind), _LISTED.get(notice.to)
    if member is None or listed is None:
        return False
    row = listed.objects.for_firm(notice.firm).filter(**{"pk": notice.row, member: not said}).first()
    if row is None:
        return False
    setattr(row, member, said)
    row.save(update_fields=[member])
    note(AuditEntry.Kind.CHANGED, row, firm=row.firm, reason="answered")
    return True


def _not_by(notice: Notice) -> dict[str, str]:
    return {"means": notice.means, "reached": reached_at(notice.means, notice.email, notice.phone)}
