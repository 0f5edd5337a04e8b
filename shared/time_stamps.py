"""Time-stamps of an authority (RFC 3161): ask for one, and look at one.

Import this where it is used: what reads the formats takes a third of a second to import.
"""

import asyncio
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from http.client import HTTPException
from typing import Any, Literal
from urllib.error import HTTPError
from urllib.request import Request, urlopen

from asn1crypto import cms, tsp
from cryptography.x509 import Certificate
from pyhanko.keys.internal import translate_pyca_cryptography_cert_to_asn1
from pyhanko.sign.general import SignedDataCerts, extract_certificate_info
from pyhanko.sign.timestamps import TimeStamper
from pyhanko.sign.validation.errors import SignatureValidationError
from pyhanko.sign.validation.generic_cms import validate_tst_signed_data
from pyhanko.sign.validation.status import TimestampSignatureStatus
from pyhanko_certvalidator import ValidationContext

SECONDS_TO_ANSWER = 5
MOST_BYTES = 100_000
HEADERS = {"Content-Type": "application/timestamp-query", "Accept": "application/timestamp-reply"}
Why = Literal["no-token", "changed", "of-other", "stranger"]


class TimeStampError(Exception):
    """There is no time-stamp, or one that does not hold; `why` is one of `Why`."""

    def __init__(self, why: Why, detail: str = "") -> None:
        super().__init__(detail or why)
        self.why = why


@dataclass(frozen=True)
class Stamped:
    """What a time-stamp says: when, and who says so."""

    at: datetime
    authority: str


class Authority(TimeStamper):
    """Asks the authority at an address, with a nonce. Raises TimeStampError("no-token")."""

    def __init__(self, address: str) -> None:
        super().__init__()
        self.address = address

    async def async_request_tsa_response(self, req: tsp.TimeStampReq) -> tsp.TimeStampResp:
        return tsp.TimeStampResp.load(_posted(self.address, req.dump()), strict=True)

    async def async_timestamp(self, message_digest: bytes, md_algorithm: str) -> cms.ContentInfo:
        try:
            token = await super().async_timestamp(message_digest, md_algorithm)
            stated = _stated(token)["message_imprint"]["hashed_message"].native
        except (OSError, HTTPException, ValueError, TypeError, KeyError, AttributeError) as error:
            raise TimeStampError("no-token", str(error)) from error
        if stated != message_digest:
            raise TimeStampError("no-token", "the answer is about something else")
        return token


@cache
def authority(address: str) -> Authority:
    """One for each address, which remembers how large its answers are."""
    return Authority(address)


def time_stamp(address: str, data: bytes) -> bytes:
    """The token (DER) of the authority over these bytes. Raises TimeStampError."""
    hashed = hashlib.sha256(data).digest()
    return bytes(asyncio.run(Authority(address).async_timestamp(hashed, "sha256")).dump())


def look_at(token: bytes, data: bytes, trusted: Sequence[Certificate] = ()) -> Stamped:
    """What a token says of these bytes. Without `trusted` authorities, whoever made it is taken at their word.

    Raises TimeStampError: "changed", "of-other" (bytes) or "stranger" (an authority that is not trusted).
    """
    try:
        read = cms.ContentInfo.load(token, strict=True)
        stated, certificates = _stated(read), extract_certificate_info(read["content"])
        status = asyncio.run(_status(read, data, _context(certificates, trusted, stated["gen_time"].native)))
        imprint = stated["message_imprint"]
        same = hashlib.new(imprint["hash_algorithm"]["algorithm"].native, data).digest()
    except (SignatureValidationError, ValueError, TypeError, KeyError, AttributeError) as error:
        raise TimeStampError("changed", str(error)) from error
    if same != imprint["hashed_message"].native:
        raise TimeStampError("of-other")
    if not (status.intact and status.valid):
        raise TimeStampError("changed")
    if not status.trusted:
        raise TimeStampError("stranger")
    return Stamped(status.timestamp, status.signing_cert.subject.human_friendly)


def _posted(address: str, request: bytes) -> bytes:
    if not address.startswith(("http://", "https://")):
        raise ValueError("the address of a time-stamp authority begins with http:// or https://")
    asked = Request(address, request, HEADERS)  # noqa: S310 - http(s) alone
    try:
        with urlopen(asked, timeout=SECONDS_TO_ANSWER) as answer:  # noqa: S310
            return bytes(answer.read(MOST_BYTES))
    except HTTPError as error:
        with error:
            raise OSError(f"it answered {error.code}") from error


def _stated(token: cms.ContentInfo) -> Any:
    return token["content"]["encap_content_info"]["content"].parsed


def _context(found: SignedDataCerts, trusted: Sequence[Certificate], moment: datetime) -> ValidationContext:
    roots = [translate_pyca_cryptography_cert_to_asn1(one) for one in trusted] or [found.signer_cert]
    return ValidationContext(trust_roots=roots, other_certs=found.other_certs, moment=moment)


async def _status(token: cms.ContentInfo, data: bytes, context: ValidationContext) -> TimestampSignatureStatus:
    def imprint(name: str) -> bytes:
        return hashlib.new(name, data).digest()

    return TimestampSignatureStatus(**await validate_tst_signed_data(token["content"], context, imprint))
