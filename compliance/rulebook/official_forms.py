"""The form on which an authority wants copies of records, as a pack states it. Pure."""

from dataclasses import dataclass

from compliance.rulebook.reading import Params, as_text, as_wording, each, one_of
from shared.wording import Wording

ELEMENTS = (
    "day", "started", "finished", "customer", "customer_address", "licensee", "firm", "firm_licence",
    "firm_phone", "firm_address", "applied_by", "applicator_licence", "treated", "total_area", "permit",
    "product", "registration", "product_applied", "product_rate", "strength", "place", "wind_from",
    "wind_speed", "temperature", "apparatus", "plate", "way", "remarks", "by_hand",
)  # fmt: skip
"""What a form may ask for. `by_hand` is what no record holds: a blank to be written in."""
ONE, MANY = "one", "many"


@dataclass(frozen=True)
class Asked:
    """One thing under a number; where it is asked for only in some cases, `only_if` says in which."""

    element: str
    says: Wording
    only_if: Wording | None = None


@dataclass(frozen=True)
class Numbered:
    """One number of the form with all that stands under it."""

    number: str
    says: Wording
    asks: tuple[Asked, ...]


@dataclass(frozen=True)
class Variant:
    """One of the forms of the same elements, and for how many applications and applicators it is made."""

    says: Wording
    applications: str
    applicators: str

    def fits(self, applications: int, applicators: int) -> bool:
        return (self.applications == MANY or applications == 1) and (
            self.applicators == MANY or applicators <= 1
        )


@dataclass(frozen=True)
class OfficialForm:
    """`head` is what the form prints at its head; `doubt` what of it was not read."""

    id: str
    cite: str
    title: Wording
    head: Wording
    numbered: tuple[Numbered, ...]
    variants: tuple[Variant, ...] = ()
    doubt: Wording | None = None

    def variant(self, applications: int, applicators: int) -> Variant | None:
        """The first that is made for so many."""
        return next((one for one in self.variants if one.fits(applications, applicators)), None)


def read_form(part: Params) -> OfficialForm:
    """Raises RuleError."""
    form = OfficialForm(
        id=part.value("form", as_text),
        cite=part.value("cite", as_text),
        title=part.value("title", as_wording),
        head=part.value("head", as_wording),
        numbered=part.value("numbered", each(lambda raw: _numbered(part.inner(raw)))),
        variants=part.maybe("variants", each(lambda raw: _variant(part.inner(raw)))) or (),
        doubt=part.maybe("doubt", as_wording),
    )
    part.done()
    return form


def _numbered(part: Params) -> Numbered:
    found = Numbered(
        part.value("no", as_text),
        part.value("says", as_wording),
        part.value("asks", each(lambda raw: _asked(part.inner(raw)))),
    )
    part.done()
    return found


def _asked(part: Params) -> Asked:
    found = Asked(
        part.value("is", one_of(ELEMENTS)),
        part.value("says", as_wording),
        part.maybe("only_if", as_wording),
    )
    part.done()
    return found


def _variant(part: Params) -> Variant:
    counts = one_of((ONE, MANY))
    found = Variant(
        part.value("says", as_wording), part.value("applications", counts), part.value("applicators", counts)
    )
    part.done()
    return found
