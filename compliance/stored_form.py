"""A stored check as the database holds it: its canonical bytes, compressed; nothing is lost. Pure."""

import json
import zlib
from collections.abc import Mapping
from typing import Any

from shared.canonical import canonical_bytes

Json = dict[str, Any]
LEVEL = 9
_LISTS = ("packs", "not_checked", "questions", "determinations", "findings", "limits")


def squeezed(data: bytes) -> bytes:
    """Bytes compressed (zlib, RFC 1950)."""
    return zlib.compress(data, LEVEL)


def unsqueezed(kept: bytes) -> bytes:
    """The bytes that were compressed."""
    return zlib.decompress(kept)


def compressed(value: Json) -> bytes:
    """JSON as it is kept: its canonical bytes, over which its digest is, compressed."""
    return squeezed(canonical_bytes(value))


def plain(kept: bytes) -> Json:
    """The JSON that was kept."""
    value: Json = json.loads(unsqueezed(kept))
    return value


def thinned(check: Json, base: Mapping[str, Any]) -> Json:
    """A check told by what it shares with another: an item of a list that stands in `base`, too, is its
    number there."""
    thin = dict(check)
    for name in _LISTS:
        if name in check:
            numbers = {_key(item): number for number, item in enumerate(base.get(name, ()))}
            thin[name] = [numbers.get(_key(item), item) for item in check[name]]
    return thin


def thickened(thin: Json, base: Mapping[str, Any]) -> Json:
    """The check that was thinned against `base`."""
    full = dict(thin)
    for name in _LISTS:
        if name in thin:
            full[name] = [base[name][item] if isinstance(item, int) else item for item in thin[name]]
    return full


def _key(item: object) -> str:
    """The same text for the same JSON; made much faster than the canonical form."""
    return json.dumps(item, sort_keys=True)
