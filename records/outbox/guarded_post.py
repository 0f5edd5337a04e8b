"""One POST to an address that somebody typed in: to no machine of the house, within one time and one size."""

import ipaddress
import socket
import ssl
import time
from collections.abc import Mapping
from urllib.parse import SplitResult

from shared.bounded_post import MOST_OF_HEAD, request_of

ROUTED = ipaddress.ip_network("2000::/3")
"""What is given out for the public net (IANA, Internet Protocol Version 6 Address Space; from memory)."""
TUNNELS = (ipaddress.ip_network("2001::/32"), ipaddress.ip_network("2002::/16"))
"""Teredo (RFC 4380) and 6to4 (RFC 3056): they lead to the IPv4 address that is written within."""
OF_THE_NET_ITSELF = (ipaddress.ip_network("192.0.0.0/24"), ipaddress.ip_network("192.88.99.0/24"))
"""Protocol assignments and old relays of 6to4 (IANA, IPv4 Special-Purpose Address Registry; from memory)."""
TRANSLATED = ipaddress.ip_network("64:ff9b::/96")
"""RFC 6052: the IPv4 address stands in the last 32 bits."""


class NotAskedError(Exception):
    """Nothing was sent. `for_good`: it never will be, to this address."""

    def __init__(self, words: str, for_good: bool = False) -> None:
        super().__init__(words)
        self.for_good = for_good


def guarded_post(
    address: SplitResult, body: bytes, headers: Mapping[str, str], *, seconds: float, anywhere: bool = False
) -> int:
    """The status of the answer, of which no more is read; no redirect is followed. Without `anywhere` it goes
    by https to public addresses alone: to the one that was looked at, whatever the name says a moment later.

    Raises NotAskedError, and OSError where the request was begun and may have come in; TimeoutError is one.
    """
    deadline = time.monotonic() + seconds
    try:
        host = address.netloc.rpartition("@")[2]
        asked = request_of(host, address.path or "/", address.query, body, headers)
    except ValueError as error:
        raise NotAskedError(str(error), for_good=True) from error
    with _connected(address, deadline, anywhere) as line:
        while asked:
            line.settimeout(_left(deadline))
            asked = asked[line.send(asked) :]
        return _status(line, deadline)


def _status(line: socket.socket, deadline: float) -> int:
    """Of the first answer that is no interim one."""
    head, read = b"", 0
    while read <= MOST_OF_HEAD:
        one, ended, rest = head.partition(b"\r\n\r\n")
        if ended:
            version, _, status = one.split(b"\r\n", 1)[0].partition(b" ")
            if not (version.startswith(b"HTTP/1.") and status[:3].isdigit()):
                break
            if not status.startswith(b"1"):
                return int(status[:3])
            head = rest
            continue
        line.settimeout(_left(deadline))
        more = line.recv(4096)
        if not more:
            break
        head, read = head + more, read + len(more)
    raise OSError("it answered in no way that can be read")


def _left(deadline: float) -> float:
    if (left := deadline - time.monotonic()) <= 0:
        raise TimeoutError("it took too long")
    return left


def _connected(address: SplitResult, deadline: float, anywhere: bool) -> socket.socket:
    secure = address.scheme == "https"
    if not address.hostname or not (secure or (anywhere and address.scheme == "http")):
        raise NotAskedError("the address begins with https://", for_good=True)
    try:
        port = address.port or (443 if secure else 80)
        found = socket.getaddrinfo(address.hostname, port, type=socket.SOCK_STREAM)
        numbers = [place[4][0] for place in found]
        if not anywhere and not all(_is_public(str(number)) for number in numbers):
            raise NotAskedError("the address leads into a private network", for_good=True)
        line = socket.create_connection((str(numbers[0]), port), timeout=_left(deadline))
        if not secure:
            return line
        line.settimeout(_left(deadline))
        return ssl.create_default_context().wrap_socket(line, server_hostname=address.hostname)
    except ValueError as error:
        raise NotAskedError(str(error), for_good=True) from error
    except OSError as error:
        raise NotAskedError(str(error) or type(error).__name__) from error


def _is_public(number: str) -> bool:
    """Whether it is on the public net; an IPv6 address that stands for an IPv4 one is that one."""
    found = ipaddress.ip_address(number.partition("%")[0])
    if isinstance(found, ipaddress.IPv6Address):
        translated = ipaddress.IPv4Address(int(found) & 0xFFFF_FFFF) if found in TRANSLATED else None
        if (inner := found.ipv4_mapped or translated) is None:
            return found in ROUTED and found.is_global and not any(found in each for each in TUNNELS)
        found = inner
    if any(found in each for each in OF_THE_NET_ITSELF):
        return False
    return found.is_global and not found.is_multicast and not found.is_reserved
