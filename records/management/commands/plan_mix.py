"""`manage.py plan_mix`: the mixing calculator on the command line. Needs no database."""

import json
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from collections.abc import Iterator
from itertools import groupby
from typing import Any

from django.core.management.base import BaseCommand

from records.mixing import MixError, MixPlan, plan_mix
from shared.wording import LANGUAGES, Wording

_LINES = {
    "finished_mix": Wording("Finished mix", "Mezcla final"),
    "product": Wording("Product", "Producto"),
    "diluent": Wording("Diluent", "Diluyente"),
    "loads": Wording("Loads (product + diluent)", "Cargas (producto + diluyente)"),
    "spray_time": Wording("Spraying time", "Tiempo de aplicación"),
    "basis": Wording("Read as", "Leído como"),
}


class Command(BaseCommand):
    """Prints the plan for a person, or with --json for a program; bad input exits with 2."""

    help = "Plan a mix: finished mix, product, diluent, tank loads and spraying time."
    requires_system_checks: list[str] = []

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> Any:
        """The usual parser, but for the usage in front of its errors: bad input gets one sentence."""
        return super().create_parser(prog_name, subcommand, usage=SUPPRESS, **kwargs)

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--area", required=True, help='treated area, e.g. "2600 ft**2"')
        parser.add_argument("--coverage", required=True, help='finished mix per area, "1.3 gal/(100 ft**2)"')
        parser.add_argument("--dilution", required=True, help='"1:15", "1 in 10", "5 %%", "3 lb/(100 gal)"…')
        parser.add_argument("--tank", help='tank size, e.g. "25 gal"')
        parser.add_argument("--flow", help='the rig\'s flow, e.g. "2.2 gal/min"')
        parser.add_argument("--density", help='the product\'s density, "9.2 lb/gal", for a percent by weight')
        parser.add_argument("--json", action="store_true", help="print only JSON")
        parser.add_argument("--language", choices=LANGUAGES, default="en")

    def handle(self, *args: object, **options: Any) -> None:
        asked = Namespace(**options)
        try:
            plan = plan_mix(
                asked.area, asked.coverage, asked.dilution, asked.tank, asked.flow, asked.density
            )
        except MixError as error:
            self.stderr.write(f"--{error.field}: {error.say(asked.language)}")
            sys.exit(2)
        if asked.json:
            self.stdout.write(json.dumps(plan.as_json(asked.language), ensure_ascii=False, indent=2))
        else:
            self.stdout.write("\n".join(_lines(plan, asked.language)))


def _lines(plan: MixPlan, language: str) -> Iterator[str]:
    def line(name: str, text: str) -> str:
        return f"{_LINES[name].say(language)}: {text}"

    yield line("finished_mix", plan.finished_mix.say(language))
    yield line("product", plan.product.say(language))
    yield line("diluent", plan.diluent.say(language))
    for load, alike in groupby(plan.loads):
        parts = f"{load.product.say(language)} + {load.diluent.say(language)}"
        yield line("loads", f"{len(list(alike))} × {load.volume.say(language)} = {parts}")
    if plan.spray_time:
        yield line("spray_time", plan.spray_time.say(language))
    yield line("basis", plan.basis.say(language))
    for note in plan.notes:
        yield note.say(language)
