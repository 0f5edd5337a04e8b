"""What a site has had of one product in the calendar year, this treatment counted, on all surfaces."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from compliance.facts_reader.lines import earlier_lines_of, earlier_of, lines_of, site_may_differ
from compliance.facts_reader.unmeasured import unmeasured_sum
from compliance.rulebook.facts import Paths
from compliance.rulebook.sizes import Exact, Measured
from records.document import amounts
from records.document.computed import NoAmount, do_not_meet
from records.document.context import Context
from records.document.days import treatment_day
from records.document.registration import registration_key
from records.document.types import Product, TreatmentDocument
from shared.quantities import UNITS
from shared.wording import Wording


@dataclass(frozen=True)
class SiteYear:
    """The treatments of the year that used the product, this one first, each with the prefix of its paths.

    `lacks`: what is missing to know them all.
    """

    registration: str
    treatments: tuple[tuple[str, TreatmentDocument], ...]
    lacks: Paths

    def applications(self) -> Measured:
        """How many treatments."""
        return Measured(None, self.lacks, self.lacks) if self.lacks else self._found(len(self.treatments))

    def applied(self, unit: str) -> Measured:
        """Product applied in all of them, in a unit of volume or of mass."""
        if self.lacks:
            return Measured(None, self.lacks, self.lacks)
        unknown, total = [], Fraction(0)
        for before, document in self.treatments:
            for mix, product in lines_of(document, self.registration).found:
                amount = amounts.product_applied(document, mix, product)
                if isinstance(amount, NoAmount):
                    unknown.append((before, amount))
                elif amount.dimension != UNITS[unit].dimension:
                    path, label = f"mixes[{mix}].products[{product}].amount", UNITS[unit]
                    bound = Wording(label.label_en, label.label_es)
                    unknown.append((before, do_not_meet(path, amount, bound)))
                else:
                    total += amount.base
        if unknown:
            return unmeasured_sum(unknown)
        return self._found(Exact(total / UNITS[unit].factor, unit))

    def _found(self, value: Exact | int) -> Measured:
        earlier = (before.removesuffix(".") for before, _ in self.treatments if before)
        return Measured(value, ("timing.started_at", *earlier))


def site_year_of(document: TreatmentDocument, context: Context, line: Product, path: str) -> SiteYear:
    """The site's year with the product of a line. An earlier version of this record does not count."""
    day, registration = treatment_day(document), registration_key(line.registration_number)
    lacks = ["timing.started_at"] if day is None else []
    lacks += [f"{path}.registration_number"] if registration is None else []
    lacks += ["context.earlier"] if context.earlier is None else []
    if lacks or day is None or registration is None:
        return SiteYear("", (), tuple(lacks))
    found, lacks = [("", document)], [*lines_of(document, registration).lacks]
    for number, other in earlier_of(document, context.earlier or []):
        before, other_day = f"context.earlier[{number}].", treatment_day(other)
        if other_day and not _counts(other_day, day):
            continue
        lines = earlier_lines_of(other, registration)
        lacks += [before + path for path in lines.lacks]
        if lines.found and other_day is None:
            lacks.append(f"{before}timing.started_at")
        elif lines.found and site_may_differ(document, other):
            lacks.append(f"{before}site.id")
        elif lines.found:
            found.append((before, other))
    return SiteYear(registration, tuple(found), tuple(lacks))


def _counts(earlier: date, day: date) -> bool:
    return earlier.year == day.year and earlier <= day
