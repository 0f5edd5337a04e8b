"""The firm's own dated answers to the open questions of the packs."""

from datetime import date
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _

from compliance.models import Determination
from compliance.pack_reader import registered_packs
from compliance.rulebook.pack import Question
from records.models import Firm

Json = dict[str, Any]


def open_questions() -> dict[str, Question]:
    """Every open question of the packs in use, by its id."""
    return {name: question for pack in registered_packs() for name, question in pack.questions.items()}


@transaction.atomic
def determine(
    firm: Firm,
    question: str,
    answer: str,
    *,
    by: str,
    valid_from: date,
    valid_to: date | None = None,
    advice: str = "",
) -> Determination:
    """Record the firm's answer for the days from `valid_from` to `valid_to`, both included (None: open).

    An answer that still runs when this one begins ends on the day before; its own past stays in its history.
    Raises ValidationError for a question or answer that no pack has, for days that run backwards, and where
    the answer would stand beside a later one.
    """
    _refuse(question, answer, valid_from, valid_to)
    _end_running(firm, question, valid_from, valid_to)
    given = {"question": question, "answer": answer, "by": by, "advice": advice}
    row = Determination(firm=firm, valid_from=valid_from, valid_to=valid_to, **given)
    row.full_clean()
    row.save()
    return row


def _refuse(question: str, answer: str, valid_from: date, valid_to: date | None) -> None:
    known = open_questions().get(question)
    if known is None:
        raise ValidationError({"question": _("No rule pack asks this question.")})
    if answer not in known.answers:
        allowed = ", ".join(known.answers)
        raise ValidationError({"answer": _("The answers are: %(allowed)s.") % {"allowed": allowed}})
    if valid_to is not None and valid_to < valid_from:
        raise ValidationError({"valid_to": _("The last day is before the first.")})


def _end_running(firm: Firm, question: str, valid_from: date, valid_to: date | None) -> None:
    rows = Determination.objects.for_firm(firm).filter(question=question)
    later = rows.filter(valid_from__gte=valid_from)
    if valid_to is not None:
        later = later.filter(valid_from__lte=valid_to)
    if later.exists():
        raise ValidationError({"valid_from": _("Another answer begins on one of these days.")})
    for row in rows.filter(Q(valid_to=None) | Q(valid_to__gte=valid_from), valid_from__lt=valid_from):
        row.valid_to = valid_from - date.resolution
        row.save()


def determinations_on(firm: Firm, day: date) -> list[Json]:
    """The firm's answers that hold on a day, as a context carries them; the newest of a question first."""
    rows = Determination.objects.for_firm(firm).filter(Q(valid_to=None) | Q(valid_to__gte=day))
    return [
        {
            "question": row.question,
            "answer": row.answer,
            "by": row.by,
            "advice": row.advice or None,
            "valid_from": row.valid_from.isoformat(),
            "valid_to": row.valid_to and row.valid_to.isoformat(),
        }
        for row in rows.filter(valid_from__lte=day).order_by("question", "-valid_from")
    ]
