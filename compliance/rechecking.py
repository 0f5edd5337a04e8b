"""One record checked again, from what is stored of it: what a process of a re-check does. Pure."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from compliance.check import Check, check_document
from compliance.compare import compare
from compliance.pack_archive import ArchiveError, Kept, restore
from compliance.rulebook.pack import Pack
from compliance.stored_form import compressed, plain, thinned
from records.document.context import read_context
from records.document.faults import DocumentFaults
from records.document.reader import read
from shared.canonical import canonical_bytes
from shared.digests import digest
from shared.wording import LANGUAGES, Catalogue, Wording, fill

Json = dict[str, Any]
Archive = Mapping[str, Kept]

WORDINGS: Catalogue = {
    "not_kept": Wording(
        "The rule pack {pack} {version} ({digest}) was not kept.",
        "No se guardó el paquete de reglas {pack} {version} ({digest}).",
    ),
    "unusable": Wording(
        "A kept rule pack cannot be used: {what}",
        "Un paquete de reglas guardado no se puede usar: {what}",
    ),
    "internal": Wording("Internal error: {what}", "Error interno: {what}"),
    "unread": Wording("The record cannot be read: {what}", "El registro no se puede leer: {what}"),
}


class NotKeptError(LookupError):
    """A check names a pack that is not in the archive."""

    def __init__(self, named: Mapping[str, Any]) -> None:
        super().__init__(f"{named['pack']} {named['version']} ({named['digest']})")
        self.named = {name: str(named[name]) for name in ("pack", "version", "digest")}


@dataclass(frozen=True)
class Job:
    """A record to check again. `base` is its stored check, `context` what was known then, both compressed.

    `laws` are the digests of the packs that may apply, `policy` the firm's own; None for those of the base.
    """

    base: bytes
    document: Json
    context: bytes
    laws: tuple[str, ...] | None
    policy: Kept | None = None


@dataclass(frozen=True)
class Made:
    """What came of it: the check told by what it shares with the base, or why it could not be made."""

    outcome: str = ""
    differs: bool = False
    body: bytes | None = None
    digest: str = ""
    fault: dict[str, str] | None = None
    words: tuple[str, ...] = ()


def make_again(stored: Json, document: Json, context: Json, laws: list[Pack], policy: Pack | None) -> Check:
    """The check of the same document in the same context on the same day, by these packs."""
    day = stored["on"] and date.fromisoformat(stored["on"])
    return check_document(read(document), read_context(context), day, packs=laws, firm_policy=policy)


def packs_named(stored: Json, archive: Archive) -> tuple[list[Pack], Pack | None]:
    """The very packs that a stored check names: those of laws, and the firm's. Raises NotKeptError."""
    packs = []
    for named in stored["packs"]:
        if named["digest"] not in archive:
            raise NotKeptError(named)
        packs.append(restore(archive[named["digest"]]))
    own = [pack for pack in packs if pack.layer == "firm"]
    return [pack for pack in packs if pack.layer != "firm"], own[0] if own else None


def do(job: Job, archive: Archive, language: str | None = None) -> Made:
    """Make one check again; in a `language`, if given, also say how it differs. Raises nothing."""
    try:
        stored = plain(job.base)
        if job.laws is None:
            laws, policy = packs_named(stored, archive)
        else:
            laws = [restore(archive[each]) for each in job.laws]
            policy = restore(job.policy) if job.policy else None
        made = make_again(stored, job.document, plain(job.context), laws, policy).stored()
    except NotKeptError as error:
        return _failed("not_kept", **error.named)
    except ArchiveError as error:
        return _failed("unusable", what=str(error))
    except DocumentFaults as error:
        return Made(fault={each: _unread(error, each) for each in LANGUAGES})
    except Exception as error:  # whatever it is, it must not end a run over all the others
        return _failed("internal", what=f"{type(error).__name__}: {error}")
    return _told(stored, made, language)


def _told(stored: Json, made: Json, language: str | None) -> Made:
    whole = canonical_bytes(made)
    comparison = compare(stored, json.loads(whole))
    return Made(
        outcome=made["outcome"],
        differs=comparison.differs,
        body=compressed(thinned(made, stored)),
        digest=digest(whole),
        words=tuple(comparison.in_words(language)) if language and comparison.differs else (),
    )


def _failed(wording_id: str, **blanks: str) -> Made:
    return Made(fault={each: fill(WORDINGS[wording_id], blanks, each) for each in LANGUAGES})


def _unread(error: DocumentFaults, language: str) -> str:
    return fill(
        WORDINGS["unread"], {"what": "; ".join(each.say(language) for each in error.faults)}, language
    )
