"""One POST to an address that somebody typed in: to no machine of the house, within one time and one size."""

import http.client
import ipaddress
import socket
import ssl
import time
from collections.abc import Mapping
from urllib.parse import SplitResult

MOST_OF_ANSWER = 16_384


class NotAskedError(Exception):
    """Nothing was sent. `for_good`: it never will be, to this address."""

    def __init__(self, words: str, for_good: bool = False) -> None:
        super().__init__(words)
        self.for_good = for_good


def guarded_post(
    address: SplitResult, body: bytes, headers: Mapping[str, str], *, seconds: float, anywhere: bool = False
) -> int:
    """The status of the answer; no redirect is followed. Without `anywhere` it goes by https to public
    addresses alone: to the very one that was looked at, whatever the name says a moment later.

    Raises NotAskedError, and OSError where the request was begun and may have come in.
    """
    deadline = time.monotonic() + seconds
    line = _connected(address, seconds, anywhere)
    connection = http.client.HTTPConnection(address.netloc.rpartition("@")[2])
    connection.sock = line
    try:
        path = f"{address.path or '/'}?{address.query}" if address.query else address.path or "/"
        connection.request("POST", path, body, {**headers, "Connection": "close"})
        line.settimeout(max(deadline - time.monotonic(), 0.001))
        answer = connection.getresponse()
        answer.read(MOST_OF_ANSWER)
        return answer.status
    except http.client.HTTPException as error:
        raise OSError(f"it answered in no way that can be read: {type(error).__name__}") from error
    finally:
        connection.close()


def _connected(address: SplitResult, seconds: float, anywhere: bool) -> socket.socket:
    secure = address.scheme == "https"
    if not address.hostname or not (secure or (anywhere and address.scheme == "http")):
        raise NotAskedError("the address begins with https://", for_good=True)
    try:
        port = address.port or (443 if secure else 80)
        found = socket.getaddrinfo(address.hostname, port, type=socket.SOCK_STREAM)
        numbers = [place[4][0] for place in found]
        if not anywhere and not all(_is_public(str(number)) for number in numbers):
            raise NotAskedError("the address leads into a private network", for_good=True)
        line = socket.create_connection((str(numbers[0]), port), timeout=seconds)
        if not secure:
            return line
        return ssl.create_default_context().wrap_socket(line, server_hostname=address.hostname)
    except ValueError as error:
        raise NotAskedError(str(error), for_good=True) from error
    except OSError as error:
        raise NotAskedError(str(error) or type(error).__name__) from error


def _is_public(number: str) -> bool:
    found = ipaddress.ip_address(number.partition("%")[0])
    mapped = getattr(found, "ipv4_mapped", None) or found
    return mapped.is_global and not mapped.is_multicast and not mapped.is_reserved
