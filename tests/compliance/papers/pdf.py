"""A printed paper read back by pypdf."""

import json
import re
from collections.abc import Iterator
from io import BytesIO
from typing import Any

from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from compliance.papers import record_sheet

_FOOTER = re.compile(r"[^\n]* · sha256:[0-9a-f]{64} · (sheet|hoja) [^\n]*\n.*\Z", re.DOTALL)


def printed(file: dict[str, Any], **options: Any) -> PdfReader:
    """The record sheet of a file or document."""
    return PdfReader(BytesIO(record_sheet.build(json.dumps(file), **options)))


def text_of(pdf: PdfReader) -> str:
    """All text but the footers, squeezed: without white space, in lower case."""
    return squeezed("".join(_FOOTER.sub("", page.extract_text()) for page in pdf.pages))


def squeezed(text: str) -> str:
    """What is left when white space and upper case are taken out."""
    return re.sub(r"\s", "", text).casefold()


def fonts_of(pdf: PdfReader) -> Iterator[DictionaryObject]:
    """Every font that a page uses."""
    for page in pdf.pages:
        for font in page["/Resources"]["/Font"].values():
            yield font.get_object()


def drawn_part(pdf: bytes) -> bytes:
    """What was drawn, without what was attached and signed when it was handed out."""
    end = b"%%EOF\n"
    return pdf[: pdf.index(end) + len(end)]
