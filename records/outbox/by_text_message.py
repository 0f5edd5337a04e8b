"""Hand a text message to the firm's own sender: one signed POST to the address that the firm has set."""

import hmac
import json
from hashlib import sha256
from urllib.parse import urlsplit

from django.conf import settings
from django.utils.crypto import salted_hmac

from records.models import Firm, Notice
from records.outbox.answers import Answer, Came
from records.outbox.guarded_post import NotAskedError, guarded_post
from records.outbox.page_address import link_lines
from shared import clock

SECONDS = 20
SALT = "records.outbox.text-messages"
TOO_MANY, SERVER_FAILS, REQUEST_TIMEOUT = 429, range(500, 600), 408
TAKEN = range(200, 300)


def shared_secret(firm: Firm) -> str:
    """What firm and sender both know: made of the service's own secret and the address, kept nowhere."""
    return salted_hmac(SALT, f"{firm.pk} {firm.text_message_address}", algorithm="sha256").hexdigest()


def signature(secret: str, timestamp: str, body: bytes) -> str:
    """HMAC-SHA-256 (RFC 2104) over the timestamp, a full stop and the body."""
    return hmac.new(secret.encode(), timestamp.encode() + b"." + body, sha256).hexdigest()


def send_by_text_message(notice: Notice) -> Answer:
    address = notice.firm.text_message_address
    if not address:
        return Answer(Came.REFUSED, "no-sender")
    said = {"id": str(notice.pk), "to": notice.phone, "text": f"{notice.text}\n{link_lines(notice)}"}
    body, timestamp = json.dumps(said, ensure_ascii=False).encode(), str(int(clock.now().timestamp()))
    headers = {
        "Content-Type": "application/json",
        "Notice-Id": str(notice.pk),
        "Notice-Timestamp": timestamp,
        "Notice-Signature": "sha256=" + signature(shared_secret(notice.firm), timestamp, body),
    }
    try:
        status = guarded_post(
            urlsplit(address), body, headers, seconds=SECONDS, anywhere=settings.TEXT_MESSAGES_ANYWHERE
        )
    except NotAskedError as error:
        return Answer(Came.REFUSED if error.for_good else Came.LATER, str(error))
    except OSError as error:
        return Answer(Came.UNSURE, str(error) or type(error).__name__)
    return Answer(_came(status), "" if status in TAKEN else f"HTTP {status}")


def _came(status: int) -> Came:
    if status in TAKEN:
        return Came.ACCEPTED
    if status in SERVER_FAILS or status in (TOO_MANY, REQUEST_TIMEOUT):
        return Came.LATER
    return Came.REFUSED
