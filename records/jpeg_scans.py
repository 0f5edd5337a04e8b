"""The scans of a JPEG, told by its markers alone: each of them is a walk over the whole picture.

Markers and segments as in ITU-T T.81, annex B (from memory).
"""

import re

MOST_MARKERS = 5_000
_SCAN_END_OR_SEGMENT = re.compile(rb"\xff([\xc0-\xcf\xd9-\xfe])")
_LONG_FILL = b"\xff" * 4_096
"""A decoder that waits for what follows begins it anew with every block that it reads."""
_START_OF_SCAN, _END = b"\xda", b"\xd9"


def components_of_scans(data: bytes) -> list[int]:
    """How many components each scan has, to its end. Raises ValueError for what no camera writes."""
    scans: list[int] = []
    at = 0
    for _ in range(MOST_MARKERS):
        found = _SCAN_END_OR_SEGMENT.search(data, at)
        if data.find(_LONG_FILL, at, found.start() + 1 if found else len(data)) >= 0:
            raise ValueError("filled up between its parts")
        if found is None or found[1] == _END:
            return scans
        at = found.end()
        length = int.from_bytes(data[at : at + 2])
        if found[1] == _START_OF_SCAN:
            scans.append(int.from_bytes(data[at + 2 : at + 3]))
        at += max(length, 2)
    raise ValueError("more markers than a picture has")
