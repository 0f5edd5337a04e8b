"""Register and revoke the keys by which a person signs on a device where there is no signal."""

from datetime import timedelta

from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction
from django.db.models import QuerySet

from records.document.device_seal import BadKeyError, read_device_key, seal_holds
from records.models import AuditEntry, DeviceKey, Firm, KeyRevocation, User
from records.permissions import demand, role_of
from records.services.audit import change, note
from shared import clock
from shared.base64url import bytes_of
from shared.digests import digest

MOST_KEYS = 10
"""Of one person in one firm that are not revoked."""
MOST_MADE_A_DAY = 20
"""Of one person in one firm, also of those that were ended since: each stays for ever."""
A_DAY = timedelta(days=1)
LONGEST_KEY = 500


class TooManyKeysError(ValueError):
    """The person has as many devices as may be registered; one of them must be revoked first."""


class TooManyMadeError(ValueError):
    """The person has registered so many devices within a day that the next one waits."""


@transaction.atomic
def register(user: User, firm: Firm, device: str, public: str, proof: str, challenge: bytes) -> DeviceKey:
    """The key of a device, of which `proof` shows that the device holds the private half: a signature over
    `challenge`. `public` is base64url. The same key sent again is the same row.

    Raises PermissionDenied, BadKeyError, TooManyKeysError and TooManyMadeError.
    """
    demand(user, "records.sign_treatment", firm)
    der = _bytes_of(public)
    if not seal_holds(read_device_key(der), challenge, proof):
        raise BadKeyError("the proof is none of this key")
    User.objects.select_for_update().get(pk=user.pk)
    if first := DeviceKey.objects.for_firm(firm).filter(by=user, digest=digest(der)).first():
        return first
    if keys_in_force(firm, user).count() >= MOST_KEYS:
        raise TooManyKeysError
    made = DeviceKey.objects.for_firm(firm).filter(by=user, made_at__gt=clock.now() - A_DAY)
    if made.count() >= MOST_MADE_A_DAY:
        raise TooManyMadeError
    try:
        with transaction.atomic():
            key = DeviceKey.objects.create(firm=firm, by=user, device=device, public=der, digest=digest(der))
            note(AuditEntry.Kind.CREATED, key, firm=firm, by=user, changes=[change("digest", None, key.digest)])
            return key
    except IntegrityError as error:
        raise BadKeyError("the key is somebody else's") from error


@transaction.atomic
def revoke(key: DeviceKey, by: User) -> None:
    """From now on nothing that the key seals holds; what it sealed before is looked at. By whose it is, or a
    manager. Raises PermissionDenied."""
    if by.pk != key.by_id and "manager" not in role_of(by, key):
        raise PermissionDenied("not one's own key")
    demand(by, "records.sign_treatment", key)
    revocations = KeyRevocation.objects.for_firm(key.firm)
    _, is_new = revocations.get_or_create(key=key, defaults={"firm": key.firm, "by": by})
    if is_new:
        note(AuditEntry.Kind.REMOVED, key, firm=key.firm, by=by, changes=[change("digest", key.digest, None)])


def keys_in_force(firm: Firm, user: User) -> QuerySet[DeviceKey]:
    """The person's keys in this firm that are not revoked, the newest first."""
    return DeviceKey.objects.for_firm(firm).filter(by=user, revocation=None)


def _bytes_of(text: str) -> bytes:
    if len(text) > LONGEST_KEY:
        raise BadKeyError("too long")
    try:
        return bytes_of(text)
    except ValueError as error:
        raise BadKeyError("not base64url") from error
