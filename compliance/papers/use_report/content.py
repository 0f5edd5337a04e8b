"""What the use report says: a report (`use-report/1`) as plain data in one language."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from babel.dates import format_date

from compliance.papers.speech import Speech, joined
from compliance.papers.use_report.wording import WORDS
from compliance.reports.content import OWN
from compliance.reports.periods import read_period
from compliance.reports.shown import ShownTable, shown_tables
from shared.paper import Block, Code, Column, Fact, Facts, Furniture, Grid, Note, Row, Section, SectionedPaper

Json = dict[str, Any]
_LOCALES = {"en": "en_US", "es": "es_US"}
MOST_OPEN = 50
"""As many as the page shows."""
_WIDE = ("product", "address", "place", "ingredient", "surfaces")


@dataclass(frozen=True)
class Sent:
    """That it was filed: which version, when, how, with the digest of what is kept."""

    version: int
    on: date
    how: str
    digest: str


def content_of(content: Json, sent: Sent | None, language: str) -> SectionedPaper:
    """The paper of one report. An authority's holds what it asks for, the firm's own all that is known."""
    speech = Speech(language, WORDS)
    title = content["title"][language]
    return SectionedPaper(
        title=title,
        firm=content["firm"]["name"],
        head=tuple(_head(content, sent, speech)),
        below=(),
        sections=(
            _who(content["firm"], speech),
            *_tables(content, sent, speech),
            *_open(content, speech),
            _how(content, sent, speech),
        ),
        furniture=_furniture(content, sent, title, speech),
    )


def period_said(text: str, language: str) -> str:
    """`September 2026`, `2026`."""
    period = read_period(text)
    return str(format_date(period.first, "MMMM y", locale=_LOCALES[language])) if period.month else text


def _head(content: Json, sent: Sent | None, speech: Speech) -> Iterator[Fact]:
    yield Fact(speech.word("period"), period_said(content["period"], speech.language))
    if content["county"]:
        yield Fact(speech.word("county"), content["county"])
    if content["rule"] != OWN:
        yield Fact(speech.word("asked-by"), content["asked_by"][speech.language])
    if sent:
        yield Fact(speech.word("sent"), joined((speech.long_date(sent.on), sent.how)))
    elif content.get("due"):
        yield Fact(speech.word("due"), speech.long_date(content["due"]))


def _who(firm: Json, speech: Speech) -> Section:
    licences = joined(joined((each["kind"], each["number"]), " ") for each in firm["licences"])
    said = (
        ("name", firm["name"]),
        ("address", firm["address"]),
        ("phone", firm["phone"]),
        ("licence", licences),
    )
    facts = tuple(Fact(speech.word(label), value or speech.word("not-stated")) for label, value in said)
    return Section(speech.word("who"), (Facts(facts),))


def _tables(content: Json, sent: Sent | None, speech: Speech) -> Iterator[Section]:
    tables = shown_tables(content, speech.language)
    own = content["rule"] == OWN
    counts = own or content["form"]["applications"]
    for table, kept in zip(tables if own else tables[:1], content["tables"], strict=False):
        blocks: list[Block] = []
        if table.lines:
            blocks.append(_grid(table, kept["columns"], counts, speech))
            if table is tables[0] and any(not line.amount for line in table.lines):
                blocks.append(Note(speech.word("no-amount")))
        elif table is tables[0]:
            blocks.append(Note(speech.word("nothing" if sent else "nothing-signed")))
        else:
            continue
        if table is tables[0] and counts:
            blocks.append(Note(speech.word("total", count=str(content["applications"]))))
        yield Section(table.title, tuple(blocks))


def _grid(table: ShownTable, columns: list[str], counts: bool, speech: Speech) -> Grid:
    titles = [Column(title, 5 if of in _WIDE else 3) for title, of in zip(table.columns, columns, strict=True)]
    titles.append(Column(speech.word("amount"), 3, numeric=True))
    if counts:
        titles.append(Column(speech.word("applications"), 2, numeric=True))
    rows = []
    for line in table.lines:
        amount = f"{line.amount} {line.unit}" if line.amount else "–"
        rows.append(Row((*line.cells, amount, *([str(line.applications)] if counts else []))))
    return Grid(tuple(titles), tuple(rows))


def _open(content: Json, speech: Speech) -> Iterator[Section]:
    """What the figures leave out, for the firm alone: an authority is sent what it asks for."""
    if content["rule"] != OWN or not content["open"]:
        return
    shares = {"record": 2, "about": 3, "lacks": 6}
    titles = tuple(Column(speech.word(name), share) for name, share in shares.items())
    rows = [
        Row((content["records"][each["record"]]["number"], each["about"], each["says"][speech.language]))
        for each in content["open"][:MOST_OPEN]
    ]
    blocks: list[Block] = [Grid(titles, tuple(rows))]
    if more := len(content["open"]) - len(rows):
        blocks.append(Note(speech.word("more-open", count=str(more))))
    yield Section(speech.word("open"), tuple(blocks))


def _how(content: Json, sent: Sent | None, speech: Speech) -> Section:
    form = content["form"]
    said = ["signed", "applied"]
    notes = [speech.word(each) for each in said]
    if form["units"] == ["kg"]:
        notes.append(speech.word("litre", kg=form["litre"]) if form["litre"] else speech.word("density"))
    if "adjuvant" in form["kinds"]:
        notes.append(speech.word("adjuvants"))
    if content["rule"] == OWN:
        notes.append(speech.word("ingredients"))
    blocks: tuple[Block, ...] = (Note(" ".join(notes)),)
    return Section(speech.word("how"), (*blocks, Code(speech.word("proof"), sent.digest)) if sent else blocks)


def _furniture(content: Json, sent: Sent | None, title: str, speech: Speech) -> Furniture:
    period = joined((period_said(content["period"], speech.language), content["county"]))
    names = {"title": title, "period": period, "firm": content["firm"]["name"]}
    draft = content["rule"] != OWN and sent is None
    return Furniture(
        title=speech.word("subject", **names),
        author=content["firm"]["name"],
        subject=speech.word("subject", **names),
        language=speech.language,
        identity=speech.word("identity", **names),
        caution=speech.word("foot"),
        page_words=speech.word("page"),
        stamp=speech.word("not-sent") if draft else "",
    )
