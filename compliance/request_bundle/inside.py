"""The papers inside a bundle that is made, for who looks at it before it goes."""

import re
from typing import IO
from zipfile import ZipFile

from compliance.models import Handing
from compliance.request_bundle.folder import file_of
from compliance.services.official_forms import form_named

WHOLE = "bundle.zip"
MOST_VERSIONS = 1_000
"""Of a bundle of more versions the forms are not listed: its table of contents alone takes a while to read."""
MOST_FORMS = 20
_FORM = re.compile(r"forms/(?P<form>[\w-]+)-(?P<number>\d{4,})-[a-z]{2}\.pdf")
_PAPER = re.compile(r"cover-letter\.pdf|index\.pdf|forms/[\w-]+\.pdf")


def forms_in(handing: Handing, language: str) -> list[tuple[str, str]]:
    """The first papers on an authority's form: their names, and what they are in words."""
    if handing.state != Handing.State.READY or handing.of_all > MOST_VERSIONS:
        return []
    with ZipFile(file_of(handing)) as archive:
        names = [name for name in archive.namelist() if name.startswith("forms/")][:MOST_FORMS]
    return [(name, _form_said(name, language)) for name in names]


def _form_said(name: str, language: str) -> str:
    """Title and number of the paper; the file's name where no pack knows the form any more."""
    read = _FORM.fullmatch(name)
    found = form_named(read["form"]) if read else None
    return f"{found.form.title.say(language)}, {int(read['number'])}" if read and found else name


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
