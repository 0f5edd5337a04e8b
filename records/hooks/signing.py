"""How a call shows that it comes from here: by the open scheme Standard Webhooks, version 1 (from memory)."""

import hmac
from base64 import b64decode, b64encode
from hashlib import sha256

from django.utils.crypto import salted_hmac

from records.models import Hook

SALT = "records.hooks"
PREFIX = "whsec_"


def secret_of(hook: Hook) -> str:
    """What both sides know: made of the service's own secret and the hook, kept nowhere."""
    about = f"{hook.firm_id} {hook.pk} {hook.address}"
    if hook.renewals:
        about += f" {hook.renewals}"
    made = salted_hmac(SALT, about, algorithm="sha256").digest()
    return PREFIX + b64encode(made).decode("ascii")


def signature(secret: str, call: str, timestamp: str, body: bytes) -> str:
    """HMAC-SHA-256 (RFC 2104) over id, timestamp and body, with full stops between."""
    said = b".".join((call.encode(), timestamp.encode(), body))
    made = hmac.new(b64decode(secret.removeprefix(PREFIX)), said, sha256).digest()
    return "v1," + b64encode(made).decode("ascii")
