"""Read a mail that came back: what a mail server reports of a notice that it had taken (RFC 3464, 6522).

Pure. Whoever wrote the mail is not trusted: nothing in it counts but the Message-ID of the notice, the action
and the status, and all is found in one pass over the text. A general reader of mails takes a minute for some of
140 kB.
"""

import quopri
import re
from binascii import a2b_base64
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

MOST_BYTES = 5_000_000
"""What comes after is the rest of the returned mail, whose head stands before."""
LONGEST_HEADER = 2000
MOST_PARTS, MOST_RECIPIENTS, MOST_HEADERS = 20, 200, 500
LONGEST_WORDS = 1000
MAIL_KEY = re.compile(r"<([0-9a-f]{32})@[^<>\s]{1,255}>")
STATUS = "message/delivery-status"
ORIGINAL = ("message/rfc822", "text/rfc822-headers")
Headers = dict[str, str]


@dataclass(frozen=True)
class Returned:
    """`action` is failed, delayed, delivered, relayed or expanded (RFC 3464, section 2.3.3)."""

    mail_key: str
    action: str
    words: str


def read_returned(raw: bytes) -> Returned | None:
    """What the mail reports, by its first `MOST_BYTES`; None for whatever is no report on one notice."""
    head, body = _split(raw[:MOST_BYTES].replace(b"\r\n", b"\n"))
    boundary = _parameter(head, "boundary")
    if _kind(head) != "multipart/report" or not boundary:
        return None
    if _parameter(head, "report-type").lower() != "delivery-status":
        return None
    statuses, keys = [], set()
    for part in islice(_parts(body, boundary), MOST_PARTS):
        about, content = _split(part)
        if _kind(about) == STATUS:
            statuses.append(_decoded(about, content))
        elif _kind(about) in ORIGINAL:
            original, _ = _split(_decoded(about, content))
            keys |= set(MAIL_KEY.findall(original.get("message-id", "")))
    return _reported(statuses[0], keys.pop()) if statuses and len(keys) == 1 else None


def message_id_of(raw: bytes) -> str:
    """By which a mail server's own log knows the mail; empty without one."""
    head, _ = _split(raw[:MOST_BYTES].replace(b"\r\n", b"\n"))
    return "".join(sign for sign in head.get("message-id", "") if sign.isprintable())


def _reported(status: bytes, key: str) -> Returned | None:
    """The worst that is said of a recipient; the first block is of the message, and has no action."""
    texts = re.split(rb"\n\n+", status, maxsplit=MOST_RECIPIENTS)
    blocks = [block for text in texts if (block := _headers(text)).get("action")]
    if not blocks:
        return None
    actions = [block["action"].lower() for block in blocks]
    place = actions.index("failed") if "failed" in actions else 0
    said = [blocks[place][name] for name in ("status", "diagnostic-code") if name in blocks[place]]
    return Returned(key, actions[place], " ".join(said)[:LONGEST_WORDS])


def _split(text: bytes) -> tuple[Headers, bytes]:
    """The headers of a mail or part, and what follows them."""
    if text.startswith(b"\n"):
        return {}, text[1:]
    head, _, body = text.partition(b"\n\n")
    return _headers(head), body


def _headers(text: bytes) -> Headers:
    """By their names in small letters, the first of each name; those that are too long are left out."""
    found: Headers = {}
    lines = re.sub(rb"\n[ \t]+", b" ", text).split(b"\n", MOST_HEADERS)
    for line in lines[:MOST_HEADERS]:
        name, _, value = line.partition(b":")
        if len(line) <= LONGEST_HEADER and value:
            found.setdefault(name.strip().lower().decode("latin-1"), value.strip().decode(errors="replace"))
    return found


def _kind(headers: Headers) -> str:
    return headers.get("content-type", "text/plain").partition(";")[0].strip().lower()


def _parameter(headers: Headers, name: str) -> str:
    asked = rf';\s*{name}\s*=\s*(?:"([^"]{{1,100}})"|([^\s;"]{{1,100}}))'
    found = re.search(asked, headers.get("content-type", ""), re.IGNORECASE)
    return (found[1] or found[2]) if found else ""


def _parts(body: bytes, boundary: str) -> Iterator[bytes]:
    """The last one may be cut off."""
    lines = re.finditer(rb"^--" + re.escape(boundary.encode()) + rb"(--)?[ \t]*$\n?", body, re.MULTILINE)
    begun = None
    for line in lines:
        if begun is not None:
            yield body[begun : line.start()]
        if line[1]:
            return
        begun = line.end()
    if begun is not None:
        yield body[begun:]


def _decoded(headers: Headers, content: bytes) -> bytes:
    coding = headers.get("content-transfer-encoding", "").lower()
    try:
        if coding == "base64":
            return a2b_base64(content)
        return quopri.decodestring(content) if coding == "quoted-printable" else content
    except ValueError:
        return b""
