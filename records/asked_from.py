"""The computer that a request comes from, by its address in the network; for bounds on what one may do."""

import re
from collections.abc import Mapping
from ipaddress import IPv6Address, IPv6Network, ip_address

from django.conf import settings

UNKNOWN = "unknown"
BITS_OF_ONE_CUSTOMER = 64
"""Of an IPv6 address; RFC 6177 (from memory): a site is given at least so much, and chooses the rest freely."""
_WITH_PORT = re.compile(r"\[([^\]]+)\](?::\d+)?|(\d+\.\d+\.\d+\.\d+):\d+")


def asked_from(meta: Mapping[str, str]) -> str:
    """By a request's META. Behind proxies it is what the outermost of those that are ours (TRUSTED_PROXIES)
    wrote; what stands before that in the header anyone can have written."""
    told = [each.strip() for each in meta.get("HTTP_X_FORWARDED_FOR", "").split(",") if each.strip()]
    proxies = settings.TRUSTED_PROXIES
    given = told[-proxies] if 0 < proxies <= len(told) else meta.get("REMOTE_ADDR", "")
    if match := _WITH_PORT.fullmatch(given):
        given = match[1] or match[2]
    try:
        address = ip_address(given)
    except ValueError:
        return UNKNOWN
    if not isinstance(address, IPv6Address):
        return address.compressed
    if address.ipv4_mapped:
        return address.ipv4_mapped.compressed
    return IPv6Network((address, BITS_OF_ONE_CUSTOMER), strict=False).network_address.compressed
