"""One POST to a server that is not trusted: the whole of it within one time, one size, and at one address."""

import asyncio
import ssl
from collections.abc import Mapping
from contextlib import suppress
from urllib.parse import urlsplit

MOST_OF_HEAD = 16_384


async def post(
    address: str, body: bytes, headers: Mapping[str, str], *, seconds: float, most_bytes: int
) -> bytes:
    """What is answered with status 200. No redirect is followed. Raises OSError (TimeoutError, if the time runs
    out while it still comes in) and ValueError."""
    parts = urlsplit(address)
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise ValueError("the address begins with http:// or https://")
    secure = ssl.create_default_context() if parts.scheme == "https" else None
    port = parts.port or (443 if secure else 80)
    asked = request_of(parts.netloc.rpartition("@")[2], parts.path or "/", parts.query, body, headers)
    async with asyncio.timeout(seconds):
        reader, writer = await asyncio.open_connection(parts.hostname, port, ssl=secure, limit=MOST_OF_HEAD)
        try:
            writer.write(asked)
            await writer.drain()
            return await _answered(reader, most_bytes)
        finally:
            with suppress(OSError):
                writer.transport.abort()


def request_of(host: str, path: str, query: str, body: bytes, headers: Mapping[str, str]) -> bytes:
    """In HTTP/1.0: the answer ends where the connection does, and comes in one piece. Raises ValueError."""
    target = f"{path}?{query}" if query else path
    all_headers = {"Host": host, **headers, "Content-Length": str(len(body)), "Connection": "close"}
    lines = [f"POST {target} HTTP/1.0", *(f"{name}: {value}" for name, value in all_headers.items())]
    if any(not (line.isascii() and line.isprintable()) for line in lines):
        raise ValueError("the address holds what no request can")
    return "\r\n".join([*lines, "", ""]).encode("ascii") + body


async def _answered(reader: asyncio.StreamReader, most_bytes: int) -> bytes:
    try:
        head = await reader.readuntil(b"\r\n\r\n")
    except (asyncio.IncompleteReadError, asyncio.LimitOverrunError) as error:
        raise OSError("it answered with no head, or an endless one") from error
    status = head.split(b"\r\n", 1)[0].split(b" ")
    if not status[0].startswith(b"HTTP/1.") or status[1:2] != [b"200"]:
        raise OSError(f"it answered {status[1:2]}")
    if b"\r\ntransfer-encoding:" in head.lower():
        raise OSError("it answered in pieces")
    answer = b""
    while more := await reader.read(most_bytes + 1 - len(answer)):
        answer += more
        if len(answer) > most_bytes:
            raise OSError("it answered with too much")
    return answer
