"""A device with a key of its own, which seals a treatment as a phone does."""

from datetime import datetime
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ec import ECDSA, SECP256R1, generate_private_key
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from compliance.services.sealed import Sent
from records.document.device_seal import statement
from records.models import DeviceKey, Firm, Treatment, User
from records.services.device_keys import register
from records.services.sheets import sheet_of
from shared.base64url import text_of
from shared.canonical import canonical_bytes
from shared.digests import digest


class Device:
    def __init__(self) -> None:
        self.private = generate_private_key(SECP256R1())
        self.key: DeviceKey | None = None

    @property
    def public(self) -> str:
        key = self.private.public_key()
        return text_of(key.public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo))

    def signature(self, signed: bytes) -> str:
        first, second = decode_dss_signature(self.private.sign(signed, ECDSA(SHA256())))
        return text_of(first.to_bytes(32) + second.to_bytes(32))

    def register(self, user: User, firm: Firm) -> DeviceKey:
        self.key = register(user, firm, "Yard phone", self.public, self.signature(b"nonce"), b"nonce")
        return self.key

    def sealed(
        self,
        treatment: Treatment,
        user: User,
        at: datetime,
        *,
        sheet: dict[str, Any] | None = None,
        answers: list[dict[str, Any]] | None = None,
        sent_at: datetime | None = None,
        device_at: datetime | None = None,
    ) -> Sent:
        """What the device sends of the treatment as its sheet has it, sealed `at`; its own clock says
        `device_at`, if not the same."""
        sheet = sheet or sheet_of(treatment, user)
        moment = at.isoformat(timespec="seconds")
        by_its_clock = (device_at or at).isoformat(timespec="seconds")
        timing = {**sheet["document"].get("timing", {}), "recorded_at": moment}
        document = canonical_bytes({**sheet["document"], "timing": timing})
        stated = statement(
            treatment=str(treatment.pk),
            document=digest(document),
            answers=answers or [],
            by=user.name,
            claimed_at=moment,
            device_at=by_its_clock,
        )
        assert self.key is not None
        return Sent(
            key=str(self.key.pk),
            document=document.decode(),
            answers=answers or [],
            claimed_at=moment,
            device_at=by_its_clock,
            sent_at=(sent_at or at).isoformat(timespec="seconds"),
            value=self.signature(stated),
            proof=sheet["proof"],
        )
