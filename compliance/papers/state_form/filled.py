"""The numbers of an official form, filled in from several applications, and what stays open of them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from compliance.papers.record_sheet.source import Source
from compliance.papers.speech import Speech
from compliance.papers.state_form.elements import ELEMENTS, lines_of
from compliance.rulebook.official_forms import Asked, Numbered
from shared.paper import Column, Fact, Facts, Grid, Note, Row, Section


@dataclass(frozen=True)
class Application:
    nth: str
    source: Source
    speech: Speech

    def kept_out(self, asked: Asked) -> str:
        """That what is asked for was erased, or is withheld from this copy; else nothing."""
        section = ELEMENTS[asked.element].section
        if section in ((self.source.erased and self.source.erased.sections) or ()):
            return self.speech.word("head/erased")
        return self.speech.missing(section) if section in self.speech.withheld else ""


def filled_in(item: Numbered, applications: Sequence[Application], still_open: list[Row]) -> Section:
    """One number of the form; said once where all the applications say the same."""
    language = applications[0].speech.language
    title = f"{item.number} {item.says.say(language)}"
    answers = [_lines(item, each) for each in applications]
    for each, lines in zip(applications, answers, strict=True):
        still_open += _open_rows(item, each, lines, len(applications) > 1)
    alike = all(lines == answers[0] for lines in answers)
    said = [(applications[0], answers[0])] if alike else list(zip(applications, answers, strict=True))
    labels = [asked.says.say(language) for asked in item.asks]
    if alike and len(answers[0]) == 1:
        shown = _shown(item.asks, answers[0][0], applications[0].speech)
        facts = tuple(Fact(label, value) for label, value in zip(labels, shown, strict=True))
        return Section(title, (Facts(facts, columns=len(facts)),))
    columns = [Column(label, 4) for label in labels]
    rows = [
        Row(((each.nth,) if not alike else ()) + tuple(_shown(item.asks, line, each.speech)))
        for each, lines in said
        for line in lines
    ]
    first = () if alike else (Column(applications[0].speech.word("form/nth"), 1),)
    return Section(title, (Grid((*first, *columns), tuple(rows)),))


def _lines(item: Numbered, each: Application) -> list[tuple[str, ...]]:
    """What the record says, line by line; of things of which there are less, the rest is empty."""
    document, speech = each.source.document, each.speech
    found = [
        [out] if (out := each.kept_out(asked)) else lines_of(asked.element, document, speech)
        for asked in item.asks
    ]
    return list(zip_longest(*found, fillvalue=""))


def _shown(asks: Sequence[Asked], line: Sequence[str], speech: Speech) -> list[str]:
    return [said or _gap(asked, speech) for asked, said in zip(asks, line, strict=True)]


def _gap(asked: Asked, speech: Speech) -> str:
    if asked.only_if:
        return speech.word("form/if-any", when=asked.only_if.say(speech.language))
    return speech.word("head/not-recorded")


def _open_rows(
    item: Numbered, each: Application, lines: Sequence[Sequence[str]], several: bool
) -> Iterator[Row]:
    for place, asked in enumerate(item.asks):
        out = each.kept_out(asked)
        if out or (asked.only_if is None and not all(line[place] for line in lines)):
            what = f"{item.says.say(each.speech.language)}: {asked.says.say(each.speech.language)}"
            what = f"{what} ({out})" if out else what
            yield Row((item.number, what, each.nth if several else ""))


def left_open(rows: Sequence[Row], speech: Speech) -> Section:
    title = speech.word("form/open")
    if not rows:
        return Section(title, (Note(speech.word("form/nothing-open")),))
    titles = [("form/open-item", 1), ("form/open-what", 8)]
    several = any(row.cells[2] for row in rows)
    columns = [Column(speech.word(name), share) for name, share in titles]
    if several:
        columns.append(Column(speech.word("form/nth"), 1))
    return Section(title, (Grid(tuple(columns), tuple(Row(row.cells[: len(columns)]) for row in rows)),))
