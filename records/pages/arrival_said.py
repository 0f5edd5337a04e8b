"""What was said of a spreadsheet, and what it asks, as a person reads and answers it."""

from typing import Any

from django.apps import apps
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from records.arriving.kinds import KINDS, member_of
from records.models import ArrivalFile
from records.services.bringing_in.files import ANSWERS, header_of
from shared.quantities import UNITS

_KINDS = {
    "treatments": gettext_lazy("Old treatments"),
    "customers": gettext_lazy("Customers"),
    "sites": gettext_lazy("Sites"),
    "products": gettext_lazy("Products, labels and lots"),
    "licences": gettext_lazy("Licences"),
}
_QUESTIONS = {
    "date_order": gettext_lazy("In which order do day and month stand?"),
    "decimal": gettext_lazy("What is a comma in a number?"),
    "ounces": gettext_lazy("Which ounces are these?"),
}
_ANSWERS = {
    "mdy": gettext_lazy("Month first: 03/04 is March 4"),
    "dmy": gettext_lazy("Day first: 03/04 is April 3"),
    "point": gettext_lazy("It parts thousands: 1,200 is one thousand two hundred"),
    "comma": gettext_lazy("It parts decimals: 1,200 is one and a fifth"),
    "fl_oz": gettext_lazy("Fluid ounces (volume)"),
    "oz": gettext_lazy("Ounces by weight"),
}
_SHAPE = ("kind", "sheet")
UNIT = "unit-"
Json = dict[str, Any]


def said_in(post: Any) -> Json:
    """The answers of a form."""
    said: Json = {name: post[name] for name in (*_SHAPE, *ANSWERS) if post.get(name)}
    if (number := post.get("header_row", "")).isdecimal():
        said["header_row"] = int(number)
    if "columns" in post:
        said["columns"] = post.getlist("columns")
    said["units"] = {
        name.removeprefix(UNIT): value
        for name, value in post.items()
        if name.startswith(UNIT) and value in UNITS
    }
    return said


def kinds() -> list[tuple[str, Any]]:
    return list(_KINDS.items())


def members_of(file: ArrivalFile, language: str) -> list[tuple[str, str]]:
    return [(member.name, member.wording.say(language)) for member in KINDS[file.asked["kind"]]]


def columns_of(file: ArrivalFile, language: str) -> list[Json]:
    """Each column with its name, what it is taken for, and what stands in it."""
    header, units = header_of(file), file.asked.get("units", {})
    rows = [cells for number, cells in file.preview["rows"] if number > file.asked["header_row"]]
    shown = []
    for place, chosen in enumerate(file.asked["columns"]):
        sample = next((cells[place] for cells in rows if place < len(cells) and cells[place]), "–")
        unit = UNITS[units[chosen]].label(language) if units.get(chosen) else ""
        shown.append({"place": place, "name": header[place], "chosen": chosen, "sample": sample, "unit": unit})
    return shown


def doubts_of(file: ArrivalFile, language: str) -> list[Json]:
    return [_doubt(file, language, **each) for each in file.doubts]


def _doubt(
    file: ArrivalFile, language: str, about: str, choices: list[str], member: str, examples: list[str]
) -> Json:
    if about != "unit":
        answers = [(each, _ANSWERS[each]) for each in choices]
        return {"name": about, "question": _QUESTIONS[about], "choices": answers, "examples": examples}
    words = member_of(file.asked["kind"], member).wording.say(language)
    return {
        "name": f"{UNIT}{member}",
        "question": _("In which unit is this: %(what)s?") % {"what": words},
        "choices": [(unit, UNITS[unit].label(language)) for unit in choices],
        "examples": examples,
    }


def makes_of(file: ArrivalFile) -> list[tuple[str, int]]:
    """How many of which kind it makes; product lines go with their treatment."""
    models = {name: apps.get_model("records", name)._meta for name in file.makes if name != "treatmentproduct"}
    return [(str(meta.verbose_name_plural), file.makes[name]) for name, meta in models.items()]
