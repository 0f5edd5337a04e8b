"""Read a mail that came back: what a mail server reports of a notice that it had taken (RFC 3464, 6522).

Pure. Whoever wrote the mail is not trusted: it is bounded before it is parsed, and nothing in it counts but
the Message-ID of the notice, the action and the status.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from email import message_from_bytes
from email.errors import MessageError
from email.message import EmailMessage, Message
from email.policy import default

MOST_BYTES = 5_000_000
MOST_BOUNDARIES = 20
LONGEST_WORDS = 1000
MAIL_KEY = re.compile(r"<([0-9a-f]{32})@[^<>\s]{1,255}>")


@dataclass(frozen=True)
class Returned:
    """`action` is failed, delayed, delivered, relayed or expanded (RFC 3464, section 2.3.3)."""

    mail_key: str
    action: str
    words: str


def read_returned(raw: bytes) -> Returned | None:
    """What the mail reports; None for whatever is no report on one notice."""
    if len(raw) > MOST_BYTES or raw.lower().count(b"boundary") > MOST_BOUNDARIES:
        return None
    try:
        mail = message_from_bytes(raw, policy=default)
        return _read(mail) if isinstance(mail, EmailMessage) else None
    except (MessageError, ValueError, LookupError, AttributeError, TypeError, RecursionError):
        return None


def _read(mail: EmailMessage) -> Returned | None:
    if mail.get_content_type() != "multipart/report":
        return None
    if str(mail.get_param("report-type", "")).lower() != "delivery-status":
        return None
    parts = list(mail.iter_parts())
    status = next((part for part in parts if part.get_content_type() == "message/delivery-status"), None)
    keys = {key for part in parts for key in _mail_keys(part)}
    if status is None or len(keys) != 1:
        return None
    return _reported(status, keys.pop())


def _reported(status: Message, key: str) -> Returned | None:
    """The worst that is said of a recipient; the first block is of the message, and has no action."""
    blocks = [block for block in status.get_payload() if isinstance(block, Message) and block["Action"]]
    if not blocks:
        return None
    actions = [str(block["Action"]).strip().lower() for block in blocks]
    place = actions.index("failed") if "failed" in actions else 0
    said = [str(blocks[place][name]) for name in ("Status", "Diagnostic-Code") if blocks[place][name]]
    return Returned(key, actions[place], " ".join(said)[:LONGEST_WORDS])


def _mail_keys(part: Message) -> Iterator[str]:
    """From the returned mail, or from its headers alone."""
    kind = part.get_content_type()
    if kind == "message/rfc822":
        original = part.get_payload(0)
        found = str(original["Message-ID"] or "") if isinstance(original, Message) else ""
    elif kind == "text/rfc822-headers":
        text = part.get_payload(decode=True)
        headers = message_from_bytes(text if isinstance(text, bytes) else b"", policy=default)
        found = str(headers["Message-ID"] or "")
    else:
        return
    if match := MAIL_KEY.fullmatch(found.strip()):
        yield match[1]
