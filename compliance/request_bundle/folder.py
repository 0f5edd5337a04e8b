"""Where the file of a bundle lies, and what is kept of it while it is made: for this user alone.

The folder's name begins with a dot, so that no backup holds what can be made again.
"""

import os
import shutil
from pathlib import Path
from typing import IO

from django.conf import settings

from compliance.models import Handing


def folder_of(handing: Handing) -> Path:
    return Path(settings.FILES_DIR) / str(handing.firm_id) / ".bundles" / str(handing.pk)


def file_of(handing: Handing) -> Path:
    return folder_of(handing) / "bundle.zip"


def half_of(handing: Handing) -> Path:
    return folder_of(handing) / "bundle.part"


def sheets_of(handing: Handing) -> Path:
    """The sheets that were drawn before a worker died; they need not be drawn again."""
    return folder_of(handing) / "sheets"


def beside_of(handing: Handing) -> Path:
    """Tables and lines of the index, as far as they are."""
    return folder_of(handing) / "beside"


def make_folder(folder: Path) -> None:
    for each in (*reversed(folder.parents), folder):
        if not each.exists():
            each.mkdir(mode=0o700, exist_ok=True)


def opened(path: Path) -> IO[bytes]:
    """A new file that only this user can read."""
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600)
    return os.fdopen(handle, "w+b")


def remove(handing: Handing) -> None:
    shutil.rmtree(folder_of(handing), ignore_errors=True)
