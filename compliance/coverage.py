"""Which duties each pack states, by topic and place: generated from the packs themselves. Pure."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from compliance.rulebook.kind import Kind
from compliance.rulebook.kinds.deadline import Deadline
from compliance.rulebook.kinds.limit import Limit
from compliance.rulebook.kinds.notice import Notice
from compliance.rulebook.pack import ANYWHERE, Pack
from compliance.rulebook.rule import Rule
from compliance.rulebook.topics import TOPICS
from shared.wording import Catalogue, Wording

LABELS: Catalogue = {
    "permission": Wording("Bans and permits", "Prohibiciones y permisos"),
    "licences": Wording("Licences", "Licencias"),
    "records": Wording("Records", "Registros"),
    "retention": Wording("How long kept", "Conservación"),
    "access": Wording("Who may see them", "Acceso a los registros"),
    "customer-copy": Wording("Customer's copy", "Copia del cliente"),
    "notices": Wording("Notices", "Avisos"),
    "neighbours": Wording("Neighbours", "Vecinos"),
    "registries": Wording("Registries", "Registros de personas"),
    "posting": Wording("Posting", "Letreros"),
    "weather": Wording("Weather", "Tiempo atmosférico"),
    "reports": Wording("Reports", "Informes"),
}
MEANS: Catalogue = {
    "read": Wording("read against the source", "leído en la fuente"),
    "memory": Wording("from memory", "de memoria"),
    "mixed": Wording(
        "partly read, partly restated or from memory", "en parte leído, en parte reproducido o de memoria"
    ),
}
_OF_KIND = {
    "permission": "permission",
    "licence": "licences",
    "record": "records",
    "retention": "retention",
    "posting": "posting",
    "report": "reports",
}
_OF_RECIPIENT = {"neighbour": "neighbours", "registered-person": "registries"}
_OF_FOLLOW_UP = {"copy-given": ("customer-copy",)}
_WEATHER = ("wind_speed", "gust", "temperature", "hours_dry_after")


@dataclass(frozen=True)
class Cell:
    """What a pack states of one topic: paragraphs of rules that are checked, and of reminders."""

    topic: str
    checked: tuple[str, ...]
    reminded: tuple[str, ...]

    @property
    def stated(self) -> bool:
        return bool(self.checked or self.reminded)


@dataclass(frozen=True)
class Row:
    """One pack: a cell for each topic, in the order of `TOPICS`."""

    pack: Pack
    cells: tuple[Cell, ...]

    @property
    def lacking(self) -> tuple[str, ...]:
        """The topics of which the pack states nothing."""
        return tuple(cell.topic for cell in self.cells if not cell.stated)


def coverage(packs: Iterable[Pack]) -> list[Row]:
    """A row for each pack of a place. A rule counts that was in force on the day of review, or is to come."""
    return [
        Row(pack, tuple(_cell(topic, pack) for topic in TOPICS)) for pack in packs if pack.place != ANYWHERE
    ]


def _cell(topic: str, pack: Pack) -> Cell:
    reviewed = pack.reviewed_on or date.min
    rules = (rule for rule in pack.rules if rule.span.until is None or reviewed < rule.span.until)
    checked = [rule.all_duties[-1].cite for rule in rules if topic in topics_of(rule)]
    reminded = [reminder.cite for reminder in pack.reminders if topic in reminder.covers]
    return Cell(topic, tuple(dict.fromkeys(checked)), tuple(dict.fromkeys(reminded)))


def topics_of(rule: Rule) -> frozenset[str]:
    """What a rule is about, by its kind and by whom or what it names."""
    return frozenset(_topics(rule.all_duties[-1].kind))


def _topics(kind: Kind) -> Iterator[str]:
    if kind.name in _OF_KIND:
        yield _OF_KIND[kind.name]
    elif isinstance(kind, Notice):
        yield from (_OF_RECIPIENT.get(name, "notices") for name in kind.to)
    elif isinstance(kind, Limit) and kind.measure.name in _WEATHER:
        yield "weather"
    elif isinstance(kind, Deadline):
        yield from ("records",) if kind.done else _OF_FOLLOW_UP.get(str(kind.follow_up), ())
