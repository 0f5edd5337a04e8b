"""Answer whether notices still state what is planned; many notices of one treatment ask for the same."""

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from django.dispatch import receiver

from compliance.papers.notice.stated import digest_of
from records.document.reader import read
from records.signals import notice_worded

_KEPT = 64


@receiver(notice_worded)
def stated_now(document: Mapping[str, Any], codes: tuple[str, ...], **_: Any) -> str:
    return _stated(json.dumps(document), codes)


@lru_cache(_KEPT)
def _stated(document: str, codes: tuple[str, ...]) -> str:
    return digest_of(read(document), codes)
