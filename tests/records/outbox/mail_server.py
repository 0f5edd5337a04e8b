"""A real SMTP server that keeps what it has taken, and can be made to fail at any point of a session."""

import asyncio
import email
from email.message import EmailMessage
from email.policy import default
from typing import Any

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import MISSING, SMTP


class FailingSMTP(SMTP):
    """Fails where its handler says so."""

    def connection_made(self, transport: Any) -> None:
        super().connection_made(transport)
        if self.event_handler.failing == ("connect", "dies"):
            transport.abort()

    async def _failed(self, at: str) -> bool:
        where, how = self.event_handler.failing
        if where != at:
            return False
        if how == "dies":
            self.transport.abort()
        elif how == "is silent":
            await asyncio.sleep(3)
            self.transport.abort()
        else:
            await self.push(how)
        return True

    async def smtp_EHLO(self, hostname: str) -> None:
        if not await self._failed("EHLO"):
            await super().smtp_EHLO(hostname)

    async def smtp_MAIL(self, arg: str | None) -> None:
        if not await self._failed("MAIL"):
            await super().smtp_MAIL(arg)

    async def smtp_RCPT(self, arg: str | None) -> None:
        if not await self._failed("RCPT"):
            await super().smtp_RCPT(arg)

    async def smtp_DATA(self, arg: str | None) -> None:
        if not await self._failed("DATA"):
            await super().smtp_DATA(arg)


class MailServer(Controller):
    """`taken` are the mails that it has on its disk; `failing` is where it fails, and how."""

    def __init__(self) -> None:
        self.failing: tuple[str, str] = ("", "")
        self.taken: list[EmailMessage] = []
        super().__init__(self, hostname="127.0.0.1", port=0)

    def factory(self) -> SMTP:
        return FailingSMTP(self, enable_SMTPUTF8=True)

    def __enter__(self) -> "MailServer":
        self.start()
        return self

    def __exit__(self, *_error: object) -> None:
        self.stop()

    def _trigger_server(self) -> None:
        self.port = self.server.sockets[0].getsockname()[1]
        super()._trigger_server()

    async def handle_DATA(self, server: SMTP, session: Any, envelope: Any) -> Any:
        where, how = self.failing
        if where == "body":
            if how not in ("dies", "is silent"):
                return how
        else:
            self.taken.append(email.message_from_bytes(envelope.content, policy=default))
        if where == "dot" or where == "body":
            if how == "is silent":
                await asyncio.sleep(3)
            server.transport.abort()
            return MISSING
        return "250 taken"
