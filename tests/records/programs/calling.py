"""A program with a token: it has no session, and sends JSON."""

from dataclasses import dataclass, field
from typing import Any

from django.test import Client

from records.models import Membership, ProgramToken
from records.services.programs import make_token

ALL = [
    "read-records", "write-records", "sign-records", "read-findings", "read-notices", "read-requests",
    "write-requests", "read-stock", "write-stock",
]  # fmt: skip


@dataclass
class Program:
    row: ProgramToken
    token: str
    client: Client = field(default_factory=lambda: Client(raise_request_exception=False))

    def get(self, address: str, query: dict[str, Any] | None = None, **headers: str) -> Any:
        return self.client.get(address, query, headers=self._headers(headers))

    def post(self, address: str, body: Any, **headers: str) -> Any:
        return self.client.post(address, body, "application/json", headers=self._headers(headers))

    def _headers(self, given: dict[str, str]) -> dict[str, str]:
        named = {name.replace("_", "-"): value for name, value in given.items()}
        return {"Authorization": f"Bearer {self.token}", **named}


def program(member: Membership, *scopes: str, days: int = 30) -> Program:
    return Program(*make_token(member.firm, member.user, "Books", scopes or ALL, days))
