"""JSON that is sent to the API, read as strictly as a document: bounded, no key twice, no half characters."""

from typing import Any, ClassVar

from django.conf import settings
from django.utils.translation import get_language
from rest_framework.exceptions import ParseError
from rest_framework.parsers import BaseParser

from records.document.faults import DocumentFaults
from records.document.json_text import DEPTH, Bounds, load

ENVELOPE = 4
"""How much deeper a request is than the value of an edit in it."""


class StrictJSONParser(BaseParser):
    """Refuses with 400 and a sentence what `records.document.json_text` refuses."""

    media_type: ClassVar[str] = "application/json"

    def parse(self, stream: Any, media_type: Any = None, parser_context: Any = None) -> object:
        most = settings.DATA_UPLOAD_MAX_MEMORY_SIZE
        try:
            return load(stream.read(most + 1), Bounds(most, DEPTH + ENVELOPE))
        except DocumentFaults as error:
            raise ParseError(" ".join(said(error))) from error


def said(error: DocumentFaults) -> list[str]:
    """The faults in the reader's language, one sentence each."""
    language = (get_language() or "en")[:2]
    return [fault.say(language) for fault in error.faults]
