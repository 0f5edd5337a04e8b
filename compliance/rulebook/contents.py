"""What a notice must say: a code by which a template prints it, the law's words for it, and a text to print."""

from dataclasses import dataclass

from compliance.rulebook.reading import Params, as_wording, one_of
from shared.wording import Wording

CODES = (
    "place",
    "date",
    "alternates",
    "time",
    "products",
    "registration_numbers",
    "active_ingredients",
    "purpose",
    "precautions",
    "reentry",
    "label_warnings",
    "label",
    "firm",
    "applicator",
    "licence",
    "contact",
    "poison_line",
    "statement",
    "cost",
    "ask_for_dates",
    "registry",
    "other",
)
"""What a template knows how to print; `other` is a blank that is filled in by hand."""


@dataclass(frozen=True)
class Content:
    """One thing that a notice says. `prints`: words that the law itself prints, as it prints them."""

    code: str
    said: Wording
    prints: Wording | None = None

    @property
    def key(self) -> str:
        """By what its line is known in every language: the code, with the law's words where that has many."""
        return f"{self.code}: {self.said.en}" if self.code in ("other", "statement") else self.code


def read_content(params: Params, raw: object) -> Content:
    """One entry of a rule's `contents`. Raises RuleError.

    A pack that was in use before entries had a code has none: there each is a blank to be filled in.
    """
    part = params.inner(raw)
    old = params.setting.archived and not part.has("is")
    content = Content(
        "other" if old else part.value("is", one_of(CODES)),
        as_wording({key: part.raw[key] for key in ("en", "es") if part.has(key)}),
        part.maybe("prints", as_wording),
    )
    part.done()
    return content
