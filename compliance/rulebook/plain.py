"""Data of a pack without the marks of the file that it was read from."""

from collections.abc import Mapping


def plain(value: object) -> object:
    """The data without the marks of the file that it was read from."""
    if isinstance(value, Mapping):
        return {str(key): plain(part) for key, part in value.items()}
    return [plain(part) for part in value] if isinstance(value, list) else str(value)
