"""A lot's ledger and where it went, in words."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from django.utils.functional import Promise
from django.utils.translation import get_language, gettext_lazy
from django.utils.translation import gettext as _

from records.amounts_said import about
from records.models import StockMove
from records.on_shelf import OnShelf
from records.recall import Went
from records.shelf import COUNT, PURCHASE, RECEIVED, TANK, USED, Entry, Line
from shared.quantities import Quantity

_WHAT: dict[str, str | Promise] = {
    RECEIVED: gettext_lazy("Amount on the lot's row"),
    USED: gettext_lazy("Mixed for a treatment"),
    TANK: gettext_lazy("Filled into a tank"),
}
_WHAT |= {kind.value: kind.label for kind in StockMove.Kind}
_SIGNS = {RECEIVED: "+", PURCHASE: "+", COUNT: "="}

Say = Callable[[Quantity | None], str]


@dataclass(frozen=True)
class SaidLine:
    """One line. `treatment` is the id of the one that it is of, `undone` what takes it back, `explained` what
    explains it; `off` is said where a count differs, `beyond` where it asks for an explanation."""

    day: date | None
    what: str | Promise
    amount: str
    left: str
    off: str = ""
    beyond: bool = False
    treatment: str = ""
    number: str = ""
    move: StockMove | None = None
    undone: StockMove | None = None
    explained: StockMove | None = None


def said_lines(shelf: OnShelf) -> list[SaidLine]:
    """The ledger from the first day, with what was taken back after what holds on its day."""
    moves = {str(move.pk): move for move in shelf.story.moves}
    undone = {str(move.of_id): move for move in moves.values() if move.kind == StockMove.Kind.TAKEN_BACK}
    beyond = {line.entry.key for line in shelf.counts_beyond}
    told = (line for line in shelf.lines if line.entry.kind != RECEIVED or line.entry.amount.base)
    held = [_held(shelf, line, moves, beyond) for line in told]
    gone = [
        SaidLine(move.on, _WHAT[move.kind], _typed(move), "", move=move, undone=undone[key])
        for key, move in moves.items()
        if key in undone
    ]
    if aside := shelf.set_aside:
        gone.append(SaidLine(aside.on, _WHAT[aside.kind], "", "", move=aside))
    return sorted([*held, *gone], key=lambda line: line.day or date.min)


def _held(shelf: OnShelf, line: Line, moves: dict[str, StockMove], beyond: set[str]) -> SaidLine:
    entry, move = line.entry, moves.get(line.entry.key)
    sign = _SIGNS.get(entry.kind, "−")
    amount = _typed(move) if move else _say(shelf.said_in(entry.amount.dimension, entry.amount.base))
    of_treatment = entry.kind == USED
    return SaidLine(
        entry.day,
        _what(entry),
        f"{sign} {amount}",
        said_left(shelf, line.after, _say),
        said_off(shelf, line.off, _say),
        entry.key in beyond,
        entry.key if of_treatment else "",
        shelf.story.treatments.get(entry.key, ""),
        move,
        explained=shelf.explained.get(entry.key),
    )


def _what(entry: Entry) -> str | Promise:
    if entry.kind == USED and not entry.amount.base:
        return _("Drawn from a tank for a treatment")
    return _("Count before the day's work") if entry.early else _WHAT[entry.kind]


def said_left(shelf: OnShelf, base: Fraction | None, say: Say = about) -> str:
    """For the eye; the ledger says it exactly."""
    if base is None or not shelf.unit:
        return _("not known")
    if base < 0:
        return _("%(amount)s more than there was") % {"amount": say(shelf.said(-base))}
    return say(shelf.said(base))


def said_off(shelf: OnShelf, off: Fraction | None, say: Say = about) -> str:
    """How far a count is from what should be there; '' where it is not."""
    if not off:
        return ""
    amount = {"amount": say(shelf.said(abs(off)))}
    return (
        _("%(amount)s less than there should be") % amount
        if off < 0
        else (_("%(amount)s more than there should be") % amount)
    )


def ledger_names() -> list[str]:
    names = (_("day"), _("what"), _("amount"), _("then there should be"), _("difference"))
    return [*names, _("treatment"), _("by"), _("from whom, where to or why"), _("Taken back")]


def ledger_cells(shelf: OnShelf) -> Iterator[list[str]]:
    for line in said_lines(shelf):
        day = line.day.isoformat() if line.day else ""
        by, why = (line.move.by.name, line.move.why) if line.move else ("", "")
        undone = line.undone.why if line.undone else ""
        yield [
            day,
            str(line.what),
            line.amount.lstrip("+−= "),
            line.left,
            line.off,
            line.number,
            by,
            why,
            undone,
        ]


def recall_names() -> list[str]:
    names = (_("day"), _("number"), _("state"), _("product"), _("lot"), _("planned"), _("mixed"), _("applied"))
    return [*names, _("site"), _("customer"), _("phone"), _("e-mail")]


def recall_cells(went: Iterable[Went]) -> Iterator[list[str]]:
    for each in went:
        of, customer = each.treatment, each.customer
        yield [
            of.day.isoformat(), of.number, of.get_state_display(), each.line.name, each.line.lot,
            _say(each.mixed) if each.is_planned else "", "" if each.is_planned else _say(each.mixed),
            _say(each.applied), of.site_name, of.customer_name,
            customer.phone if customer else "", customer.email if customer else "",
        ]  # fmt: skip


def _typed(move: StockMove) -> str:
    return _say(move.amount)


def _say(amount: Quantity | None) -> str:
    return amount.say((get_language() or "en")[:2]) if amount else ""
