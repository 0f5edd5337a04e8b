"""Answer whether notices still state what is planned; many notices of one treatment ask for the same."""

import json
from functools import lru_cache
from typing import Any

from django.dispatch import receiver

from compliance.papers.notice.stated import digest_of, typed_anew, without_marks
from compliance.services.stating import typed_now
from records.document.reader import read
from records.models import Treatment
from records.signals import notice_worded

_KEPT = 64
_ANEW = "typed anew"


@receiver(notice_worded)
def stated_now(treatment: Treatment, codes: tuple[str, ...], **_: Any) -> str:
    plain = without_marks(codes)
    if plain != codes and typed_anew(codes, typed_now(treatment)):
        return _ANEW
    return _stated(json.dumps(treatment.document), plain)


@lru_cache(_KEPT)
def _stated(document: str, codes: tuple[str, ...]) -> str:
    return digest_of(read(document), codes)
