"""The papers inside a bundle that is made, for who looks at it before it goes."""

import re
from typing import IO
from zipfile import ZipFile

from compliance.models import Handing
from compliance.request_bundle.folder import file_of

WHOLE = "bundle.zip"
MOST_VERSIONS = 1_000
"""Of a bundle of more versions the forms are not listed: its table of contents alone takes a while to read."""
MOST_FORMS = 20
_PAPER = re.compile(r"cover-letter\.pdf|index\.pdf|forms/[\w-]+\.pdf")


def forms_in(handing: Handing) -> list[str]:
    """The first papers on an authority's form."""
    if handing.state != Handing.State.READY or handing.of_all > MOST_VERSIONS:
        return []
    with ZipFile(file_of(handing)) as archive:
        return [name for name in archive.namelist() if name.startswith("forms/")][:MOST_FORMS]


def look_into(handing: Handing, name: str) -> IO[bytes]:
    """The whole file or one of its papers. Raises FileNotFoundError where there is none of this name."""
    if handing.state != Handing.State.READY:
        raise FileNotFoundError(name)
    if name == WHOLE:
        return file_of(handing).open("rb")
    if not _PAPER.fullmatch(name):
        raise FileNotFoundError(name)
    with ZipFile(file_of(handing)) as archive:
        try:
            return archive.open(name)
        except KeyError:
            raise FileNotFoundError(name) from None
