"""Packs as they are kept: canonical JSON from which the very same pack is read again. Pure."""

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.errors import RuleError
from compliance.rulebook.pack import Pack, read_pack
from shared.digests import digest

PACKS_AT_HAND = 500
"""Compiled packs that one process holds at most."""


class ArchiveError(ValueError):
    """A kept pack that is not what it was."""


@dataclass(frozen=True)
class Kept:
    """One version of a pack as it is kept: `content` is the canonical form that `digest` is over."""

    pack: str
    version: str
    digest: str
    layer: str
    content: bytes


def keep(pack: Pack) -> Kept:
    """The pack as it is kept. Raises ArchiveError for one without content (a label's is in the document)."""
    if not pack.content:
        raise ArchiveError(f"{pack.id} {pack.version} has no content to keep")
    return Kept(pack.id, pack.version, pack.digest, pack.layer, pack.content)


@lru_cache(maxsize=PACKS_AT_HAND)
def restore(kept: Kept) -> Pack:
    """The very pack that was kept, also where a kind of its rules is retired now.

    Raises ArchiveError if its content does not have its digest, or cannot be read any more.
    """
    if digest(kept.content) != kept.digest:
        raise ArchiveError(f"{kept.pack} {kept.version}: the content kept is not that of {kept.digest}")
    try:
        pack = _read(json.loads(kept.content), kept.layer)
    except RuleError as error:
        raise ArchiveError(f"{kept.pack} {kept.version}: {error.say('en')}") from error
    if pack.digest != kept.digest:
        raise ArchiveError(f"{kept.pack} {kept.version} is not read as it was: {kept.digest}")
    return pack


def _read(content: Any, layer: str) -> Pack:
    layer = "firm" if layer == "firm" else "law"
    return read_pack(content["pack"], content["rules"], VOCABULARY, layer, archived=True)
