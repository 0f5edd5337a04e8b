"""Let a new signing key follow the one in force; the change is entered in the log."""

from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from django.db import transaction

from records.document.key_change import key_change
from records.models import AuditEntry, Firm, KeyChange, SigningKey, User
from records.permissions import demand
from records.services import log
from records.services.audit import change, note
from records.services.keys import can_sign, in_force_digest, key_in_force, new_key, signing_key
from shared import clock
from shared.canonical import canonical_bytes
from shared.digests import digest


class OtherKeyInForceError(ValueError):
    """The key in force is not the one that was to be replaced: it was replaced already."""


@transaction.atomic
def change_key(firm: Firm, by: User | None = None, replaces: str | None = None) -> SigningKey:
    """A new key, introduced by the one in force: both sign the change. What the old one signed is verified as
    before. Without `by` the machine's owner does it. `replaces` is the digest of the key that is to be
    replaced (empty: there was none), so that what is sent twice replaces no second one.

    Raises PermissionDenied, OtherKeyInForceError, and SigningKeyError where the old key can't sign: then it is
    lost.
    """
    if by is not None:
        demand(by, "records.change_key", firm)
    locked = Firm.objects.for_firm(firm).select_for_update().get()
    if replaces is not None and replaces != in_force_digest(locked):
        raise OtherKeyInForceError
    if key_in_force(locked) is None:
        return signing_key(locked)[0]
    old, old_private = signing_key(locked)
    new, private = new_key(locked, by)
    stated = key_change(str(locked.pk), old.digest, clock.now(), private, old_private)
    _enter(locked, stated, old, new, private, by)
    return new


@transaction.atomic
def replace_lost_key(firm: Firm) -> SigningKey | None:
    """A new key where the private half of the firm's is gone. It signs the change alone, and checks say so."""
    locked = Firm.objects.for_firm(firm).select_for_update().get()
    old = key_in_force(locked)
    if old is None or can_sign(locked):
        return None
    new, private = new_key(locked)
    stated = key_change(str(locked.pk), old.digest, clock.now(), private, None)
    _enter(locked, stated, old, new, private)
    return new


def _enter(
    firm: Firm,
    stated: dict[str, Any],
    old: SigningKey,
    new: SigningKey,
    private: Ed25519PrivateKey,
    by: User | None = None,
) -> None:
    data = canonical_bytes(stated)
    row = KeyChange.objects.create(
        firm=firm,
        key=new,
        replaces=old,
        lost=stated["lost"],
        record=data,
        digest=digest(data),
        by=by,
    )
    log.append(firm, row, private)
    changes = [change("key", old.digest, new.digest), change("lost", None, stated["lost"])]
    note(AuditEntry.Kind.CREATED, row, firm=firm, by=by, changes=changes)
