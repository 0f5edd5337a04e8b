"""Files of private keys: under KEY_DIR, named by a digest, for this user alone."""

import os
from pathlib import Path

from django.conf import settings


def key_file(digest: str) -> Path:
    """Where the private half of what has this digest lies."""
    return Path(settings.KEY_DIR) / f"{digest.removeprefix('sha256:')}.pem"


def write_key(path: Path, pem: bytes) -> None:
    """A new file; never over one that is there."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(pem)
        file.flush()
        os.fsync(file.fileno())
