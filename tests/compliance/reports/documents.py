"""Documents for reports, and the report of some of them."""

from typing import Any

from compliance.reports.sums import Json, Sums
from compliance.reports.uses import Source, areas_of, uses_of
from compliance.rulebook.report_form import ReportForm
from records.document.reader import read

WASH = {
    "name": "Sample Moss Wash",
    "kind": "pesticide",
    "registration_number": "99999-12",
    "active_ingredients": [{"name": "invented active", "percent": "38", "basis": "w/w"}],
    "density": {"value": "8.9", "unit": "lb/gal"},
}
SPREADER = {"name": "Sample Spreader", "kind": "adjuvant"}
GRANULES = {
    "name": "Sample Granules",
    "kind": "pesticide",
    "registration_number": "99999-40",
    "active_ingredients": [{"name": "invented salt", "percent": "99", "basis": "w/w"}],
}


def quantity(text: str) -> dict[str, str]:
    value, unit = text.split(" ", 1)
    return {"value": value, "unit": unit}


def mix(*products: tuple[dict[str, Any], str], water: str | None, applied: str, on: str = "roof") -> Json:
    lines = [{**product, "amount": quantity(amount)} for product, amount in products]
    made = {"products": lines, "applied": quantity(applied), "surfaces": [{"surface": on}]}
    return {**made, "diluent": {"amount": quantity(water)}} if water else {**made, "form": "dry"}


def document(*mixes: Json, day: str = "2026-03-02", **site: Any) -> Json:
    kinds = dict.fromkeys(on["surface"] for each in mixes for on in each["surfaces"])
    return {
        "schema": "treatment-document/1",
        "record": {"result": "treated"},
        "site": {"county": "Quill County", "use": "residence", "jurisdictions": ["us", "us-ca"], **site},
        "timing": {"started_at": f"{day}T09:00:00-08:00"},
        "surfaces": [{"name": kind, "kind": kind, "treated_area": quantity("1000 ft**2")} for kind in kinds],
        "mixes": list(mixes),
    }


def reported(documents: list[Json], form: ReportForm | None = None) -> Json:
    sums = Sums(form or ReportForm())
    for number, each in enumerate(documents, 1):
        found, source = read(each), Source(f"id-{number}", f"2026-{number:04}", 1, "sha256:0")
        sums.add(uses_of(found, source), areas_of(found, source))
    return sums.as_json()


def table(report: Json, name: str) -> list[tuple[Any, ...]]:
    """Each line of a table: what it stands for, its amount, its unit, in how many records."""
    (found,) = [each for each in report["tables"] if each["name"] == name]
    return [(*line["cells"], line["amount"], line["unit"], line["applications"]) for line in found["lines"]]
