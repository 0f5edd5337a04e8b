"""JSON bytes that come out the same everywhere: the JSON Canonicalization Scheme, RFC 8785."""

import rfc8785


class NotCanonicalError(ValueError):
    """A value that has no canonical form here; the message says which and why."""


def canonical_bytes(value: object) -> bytes:
    """The value as RFC 8785 bytes.

    Takes None, bool, int within ±(2**53 - 1), str, list or tuple, and dict with text keys. A float is
    refused: numbers with meaning are text, so that the same digits come out everywhere.
    Raises NotCanonicalError.
    """
    _refuse_floats(value)
    try:
        return rfc8785.dumps(value)  # type: ignore[arg-type]
    except (rfc8785.CanonicalizationError, UnicodeEncodeError) as error:
        raise NotCanonicalError(str(error)) from error


def _refuse_floats(value: object) -> None:
    if isinstance(value, float):
        raise NotCanonicalError(f'{value} is a number with a fraction; write it as text, "{value}"')
    if isinstance(value, dict):
        for member in value.values():
            _refuse_floats(member)
    elif isinstance(value, list | tuple):
        for item in value:
            _refuse_floats(item)
