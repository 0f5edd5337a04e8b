"""Time-stamps of an authority (RFC 3161): ask for one, and look at one.

Import this where it is used: what reads the formats takes a third of a second to import.
"""

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Any, Literal

from asn1crypto import cms, tsp
from cryptography.x509 import Certificate
from pyhanko.keys.internal import translate_pyca_cryptography_cert_to_asn1
from pyhanko.sign.general import SignedDataCerts, extract_certificate_info
from pyhanko.sign.timestamps import TimeStamper
from pyhanko.sign.validation.errors import SignatureValidationError
from pyhanko.sign.validation.generic_cms import validate_tst_signed_data
from pyhanko.sign.validation.status import TimestampSignatureStatus
from pyhanko_certvalidator import ValidationContext

from shared.awaited import awaited
from shared.bounded_post import post

SECONDS_TO_ANSWER = 5
MOST_BYTES = 100_000
HEADERS = {"Content-Type": "application/timestamp-query", "Accept": "application/timestamp-reply"}
_OF_NO_FORM = (ValueError, TypeError, KeyError, AttributeError, RecursionError)
"""What reading bytes of an unknown hand may raise."""
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
    """Asks the authority at an address, with a nonce, and looks at what it answers before anybody has it.

    Raises TimeStampError, as `look_at`, and "no-token" where the answer is none to what was asked.
    """

    def __init__(self, address: str, trusted: Sequence[Certificate] = ()) -> None:
        super().__init__()
        self.address, self.trusted = address, trusted

    async def async_request_tsa_response(self, req: tsp.TimeStampReq) -> tsp.TimeStampResp:
        answer = await post(
            self.address, req.dump(), HEADERS, seconds=SECONDS_TO_ANSWER, most_bytes=MOST_BYTES
        )
        return tsp.TimeStampResp.load(answer, strict=True)

    async def async_timestamp(self, message_digest: bytes, md_algorithm: str) -> cms.ContentInfo:
        try:
            token = await super().async_timestamp(message_digest, md_algorithm)
            stated = _stated(token)["message_imprint"]["hashed_message"].native
        except (OSError, *_OF_NO_FORM) as error:
            raise TimeStampError("no-token", str(error)) from error
        if stated != message_digest:
            raise TimeStampError("no-token", "the answer is about something else")
        await _look(token, lambda name: message_digest if name == md_algorithm else b"", self.trusted)
        return token


@cache
def authority(address: str, trusted: tuple[Certificate, ...] = ()) -> Authority:
    """One for each address, which remembers how large its answers are."""
    return Authority(address, trusted)


def time_stamp(address: str, data: bytes, trusted: Sequence[Certificate] = ()) -> bytes:
    """The token (DER) of the authority over these bytes. Raises TimeStampError."""
    hashed = hashlib.sha256(data).digest()
    return bytes(awaited(Authority(address, trusted).async_timestamp(hashed, "sha256")).dump())


def look_at(token: bytes, data: bytes, trusted: Sequence[Certificate] = ()) -> Stamped:
    """What a token says of these bytes. Without `trusted` authorities, whoever made it is taken at their word.

    Raises TimeStampError: "changed", "of-other" (bytes) or "stranger" (an authority that is not trusted).
    """
    try:
        read = cms.ContentInfo.load(token, strict=True)
    except _OF_NO_FORM as error:
        raise TimeStampError("changed", str(error)) from error
    return awaited(_look(read, lambda name: hashlib.new(name, data).digest(), trusted))


async def _look(
    token: cms.ContentInfo, digest_by: Callable[[str], bytes], trusted: Sequence[Certificate]
) -> Stamped:
    try:
        stated, certificates = _stated(token), extract_certificate_info(token["content"])
        context = _context(certificates, trusted, stated["gen_time"].native)
        found = await validate_tst_signed_data(token["content"], context, digest_by)
        status = TimestampSignatureStatus(**found)
        imprint = stated["message_imprint"]
        same = digest_by(imprint["hash_algorithm"]["algorithm"].native)
    except (SignatureValidationError, *_OF_NO_FORM) as error:
        raise TimeStampError("changed", str(error)) from error
    if same != imprint["hashed_message"].native:
        raise TimeStampError("of-other")
    if not (status.intact and status.valid):
        raise TimeStampError("changed")
    if not status.trusted:
        raise TimeStampError("stranger")
    return Stamped(status.timestamp, status.signing_cert.subject.human_friendly)


def _stated(token: cms.ContentInfo) -> Any:
    return token["content"]["encap_content_info"]["content"].parsed


def _context(found: SignedDataCerts, trusted: Sequence[Certificate], moment: datetime) -> ValidationContext:
    roots = [translate_pyca_cryptography_cert_to_asn1(one) for one in trusted] or [found.signer_cert]
    return ValidationContext(trust_roots=roots, other_certs=found.other_certs, moment=moment)
