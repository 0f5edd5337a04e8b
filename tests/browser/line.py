"""The line between a phone and the site, which a test can cut and mend: bytes are passed on, or are not."""

import socket
import threading
from contextlib import suppress
from types import TracebackType
from typing import Self


class Line:
    """Passes connections to `port` of this machine on from a port of its own, while it is whole."""

    def __init__(self, port: int) -> None:
        self.port, self.whole = port, True
        self.still: int | None = None
        self.open: set[socket.socket] = set()
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.address = f"http://localhost:{self.listener.getsockname()[1]}"

    def __enter__(self) -> Self:
        threading.Thread(target=self._listen, daemon=True).start()
        return self

    def __exit__(self, *_error: type[BaseException] | BaseException | TracebackType | None) -> None:
        self.listener.close()
        self.cut()

    def cut(self) -> None:
        self.whole = False
        for end in list(self.open):
            self._hang_up(end)

    def cut_after(self, many: int) -> None:
        """Cut the line once so many more bytes have come from the phone."""
        self.still = many

    def mend(self) -> None:
        self.whole = True

    def _listen(self) -> None:
        with suppress(OSError):
            while True:
                phone, _ = self.listener.accept()
                if self.whole:
                    self._connect(phone)
                else:
                    phone.close()

    def _connect(self, phone: socket.socket) -> None:
        site = socket.create_connection(("127.0.0.1", self.port))
        self.open |= {phone, site}
        if not self.whole:  # cut while the site was called
            self._hang_up(phone)
            self._hang_up(site)
            return
        for one, other in ((phone, site), (site, phone)):
            from_phone = one is phone
            threading.Thread(target=self._pass_on, args=(one, other, from_phone), daemon=True).start()

    def _pass_on(self, one: socket.socket, other: socket.socket, from_phone: bool) -> None:
        with suppress(OSError):
            while data := one.recv(65536):
                other.sendall(data)
                if from_phone and self.still is not None:
                    self._count(len(data))
        self._hang_up(one)
        self._hang_up(other)

    def _count(self, many: int) -> None:
        self.still = (self.still or 0) - many
        if self.still <= 0:
            self.still = None
            self.cut()

    def _hang_up(self, end: socket.socket) -> None:
        self.open.discard(end)
        with suppress(OSError):
            end.shutdown(socket.SHUT_RDWR)
        end.close()
