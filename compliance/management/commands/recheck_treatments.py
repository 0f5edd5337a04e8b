"""Check signed treatments again by the rule packs of another day; say what would come out differently."""

import sys
from argparse import ArgumentParser, ArgumentTypeError
from concurrent.futures.process import BrokenProcessPool
from datetime import date
from typing import Any, NoReturn
from uuid import UUID

from django.core.management.base import BaseCommand

from compliance.models import Recheck
from compliance.services.pack_keeping import NoPacksKeptError
from compliance.services.recheck import (
    Progress,
    TakenUpElsewhereError,
    begin,
    go_on,
    summary,
    unfinished,
)
from compliance.services.recheck_basis import STORED, TODAY
from records.models import Firm
from shared.times import TimeError, read_day
from shared.wording import LANGUAGES, Catalogue, Wording, say

SAME, DIFFERENT, BAD_INPUT, INCOMPLETE = 0, 1, 2, 3

WORDINGS: Catalogue = {
    "begins": Wording(
        "{firm}: {total} records, rule packs of: {packs_of}.",
        "{firm}: {total} registros, paquetes de reglas de: {packs_of}.",
    ),
    "resumes": Wording("Going on after {done}.", "Se continúa tras {done}."),
    "progress": Wording("{done} of {total} checked.", "{done} de {total} comprobados."),
    "fault": Wording("{number}: not checked. {fault}", "{number}: sin comprobar. {fault}"),
    "differ": Wording(
        "{differ} of {records} would come out differently; in {whole} of them the outcome of the whole.",
        "{differ} de {records} saldrían de otro modo; en {whole} de ellos, el resultado del conjunto.",
    ),
    "failed": Wording("{failed} could not be checked.", "{failed} no se han podido comprobar."),
    "kept": Wording(
        "What was stored at signing is unchanged. This is help, not legal advice.",
        "Lo guardado al firmar no ha cambiado. Esto es una ayuda, no asesoramiento legal.",
    ),
    "no_firm": Wording("There is no such firm.", "No existe tal empresa."),
    "nothing_to_resume": Wording(
        "There is no such run that has not come to its end.", "No hay ninguna pasada así sin terminar."
    ),
    "no_packs": Wording(
        "No rule packs are kept of {day}; the first day is {first}.",
        "No se guardan paquetes de reglas de {day}; el primer día es {first}.",
    ),
    "elsewhere": Wording(
        "Another process is at work on this run.", "Otro proceso está trabajando en esta pasada."
    ),
    "broken": Wording(
        "A process was killed. Go on with --resume.", "Se ha interrumpido un proceso. Continúe con --resume."
    ),
}


class Command(BaseCommand):
    """Exit code 0: all come out the same; 1: some differently; 2: bad option, or nothing to go on with;
    3: not all could be checked, or the run was broken off and can be gone on with."""

    help = __doc__

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--firm", type=UUID, help="the firm's id (all firms if left out)")
        parser.add_argument(
            "--from", type=_day, dest="day_from", help="first day of treatment, as 2026-01-31"
        )
        parser.add_argument("--until", type=_day, dest="day_until", help="last day of treatment")
        parser.add_argument("--packs-of", type=_packs_of, default=TODAY, help="a day, today or stored")
        parser.add_argument("--processes", type=_count, default=1)
        parser.add_argument("--resume", action="store_true", help="go on with the newest run like this")
        parser.add_argument("--compare", action="store_true", help="say each difference")
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *args: object, **options: Any) -> NoReturn:
        self.language, self.compare = options["language"], options["compare"]
        codes = []
        try:
            for run in self._runs(options):
                codes.append(self._take(run, options["processes"]))
        except TakenUpElsewhereError:
            self._fail(INCOMPLETE, "elsewhere")
        except BrokenProcessPool:
            self._fail(INCOMPLETE, "broken")
        self.stdout.write(self._said("kept"))
        sys.exit(max(codes, default=SAME))

    def _runs(self, options: dict[str, Any]) -> list[Recheck]:
        """The runs of all firms are begun before the first is taken up, so that `--resume` finds each."""
        firms = Firm.across_firms.order_by("name", "pk")
        if options["firm"]:
            firms = firms.filter(pk=options["firm"])
            if not firms:
                self._fail(BAD_INPUT, "no_firm")
        asked = options["packs_of"], options["day_from"], options["day_until"]
        if options["resume"]:
            runs = [run for firm in firms if (run := unfinished(firm, *asked))]
            return runs or self._fail(BAD_INPUT, "nothing_to_resume")
        try:
            return [begin(firm, *asked) for firm in firms]
        except NoPacksKeptError as error:
            self._fail(BAD_INPUT, "no_packs", day=str(error.day), first=str(error.first or "–"))

    def _take(self, run: Recheck, processes: int) -> int:
        self._tell("begins", firm=run.firm.name, total=str(run.total), packs_of=run.packs_of)
        percent = -1
        if run.reached:
            self._tell("resumes", done=str(summary(run).records))
        for progress in go_on(run, processes, self.language if self.compare else None):
            self._say_results(progress)
            if (now := 100 * progress.done // max(progress.total, 1)) > percent:
                percent = now
                self._tell("progress", done=str(progress.done), total=str(progress.total))
        return self._sum_up(run)

    def _say_results(self, progress: Progress) -> None:
        for base, made in progress.results:
            number = base.treatment.number
            if made.fault:
                self.stderr.write(self._said("fault", number=number, fault=made.fault[self.language]))
            if made.words:
                self.stdout.write(f"{number}\n" + "\n".join(f"  - {sentence}" for sentence in made.words))

    def _sum_up(self, run: Recheck) -> int:
        came = summary(run)
        numbers = {"differ": came.differ, "records": came.records, "whole": came.whole_differs}
        self.stdout.write(self._said("differ", **{name: str(number) for name, number in numbers.items()}))
        if came.failed:
            self.stdout.write(self._said("failed", failed=str(came.failed)))
            return INCOMPLETE
        return DIFFERENT if came.differ else SAME

    def _tell(self, wording_id: str, **blanks: str) -> None:
        self.stderr.write(self._said(wording_id, **blanks))

    def _said(self, wording_id: str, **blanks: str) -> str:
        return say(WORDINGS, wording_id, blanks, self.language)

    def _fail(self, code: int, wording_id: str, **blanks: str) -> NoReturn:
        self._tell(wording_id, **blanks)
        sys.exit(code)


def _day(text: str) -> date:
    try:
        return read_day(text)
    except TimeError as error:
        raise ArgumentTypeError(str(error)) from None


def _packs_of(text: str) -> str:
    return text if text in (TODAY, STORED) else _day(text).isoformat()


def _count(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 64:
        raise ArgumentTypeError(f"{text}: from 1 to 64")
    return int(text)
