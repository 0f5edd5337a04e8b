"""JSON bytes that come out the same everywhere: the JSON Canonicalization Scheme, RFC 8785."""

import json
from collections.abc import Iterable

import rfc8785

_LARGEST = 2**53 - 1


class NotCanonicalError(ValueError):
    """A value that has no canonical form here; the message says which and why."""


def canonical_bytes(value: object) -> bytes:
    """The value as RFC 8785 bytes.

    Takes None, bool, int within ±(2**53 - 1), str, list or tuple, and dict with text keys. A float is
    refused: numbers with meaning are text, so that the same digits come out everywhere.
    Raises NotCanonicalError.
    """
    try:
        if _sorts_by_bytes(value):
            text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
            return text.encode()
        return rfc8785.dumps(value)  # type: ignore[arg-type]
    except (rfc8785.CanonicalizationError, UnicodeEncodeError) as error:
        raise NotCanonicalError(str(error)) from error


def _sorts_by_bytes(value: object) -> bool:
    """Whether all keys are ASCII: the standard library, at the speed of C, then sorts and writes them as
    RFC 8785 does. Raises NotCanonicalError for a value that has no canonical form."""
    if value is None or isinstance(value, str):
        return True
    ascii_keys = True
    inner: Iterable[object] = ()
    if isinstance(value, dict):
        ascii_keys, inner = all(map(_is_ascii, value)), value.values()
    elif isinstance(value, list | tuple):
        inner = value
    else:
        _refuse_number(value)
    for part in inner:
        ascii_keys = _sorts_by_bytes(part) and ascii_keys
    return ascii_keys


def _is_ascii(key: object) -> bool:
    if not isinstance(key, str):
        raise NotCanonicalError(f"{key!r} is no text, and only text can be a key")
    return key.isascii()


def _refuse_number(value: object) -> None:
    if isinstance(value, float):
        raise NotCanonicalError(f'{value} is a number with a fraction; write it as text, "{value}"')
    if not isinstance(value, int):
        raise NotCanonicalError(f"{value!r} is no JSON value")
    if abs(value) > _LARGEST:
        raise NotCanonicalError(f"{value} is too large a number for all machines; write it as text")
