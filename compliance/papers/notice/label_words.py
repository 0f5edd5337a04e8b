"""What the labels of a treatment say, product by product, in their own words."""

from collections.abc import Callable, Iterable

from compliance.papers.speech import Speech, joined
from records.document.types import Product, TreatmentDocument
from records.quoted_labels import label_language, quoted

BLANK = "____________________"
"""To be filled in by hand."""


def precautions(document: TreatmentDocument, products: Iterable[Product], speech: Speech) -> str:
    """What each label says; in a notice of another language as a quote."""
    return by_product(products, speech, lambda one: _statements(one, document, speech))


def warnings(document: TreatmentDocument, products: Iterable[Product], speech: Speech) -> str:
    """The signal word of each label, and what it says."""

    def said(product: Product) -> str:
        word = product.signal_word and speech.listed("signal_word", product.signal_word).upper()
        return joined((word and speech.word("signal", word=word), _statements(product, document, speech)), ". ")

    return by_product(products, speech, said)


def by_product(products: Iterable[Product], speech: Speech, said: Callable[[Product], str]) -> str:
    """A line for each product, with a blank where it has no answer; '' where none has one."""
    lines = [(one.name or "", said(one)) for one in products]
    if not any(text for _, text in lines):
        return ""
    if len(lines) == 1:
        return lines[0][1]
    return "\n".join(speech.word("of-product", product=name, text=text or BLANK) for name, text in lines)


def _statements(product: Product, document: TreatmentDocument, speech: Speech) -> str:
    text = joined(((product.label and product.label.statements) or ()), " ")
    places = (document.site and document.site.jurisdictions) or ()
    return quoted(text, label_language(places), speech.language)
