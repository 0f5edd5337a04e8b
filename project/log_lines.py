"""Lines of the machine's log, without the secrets that some addresses hold."""

import logging
import re

_SECRET = re.compile(
    r"(/(?:handed|told|proof|invitations|accounts/password/reset/key|accounts/confirm-email)/)[^\s'\"]+"
)

_LINE = "%(asctime)s %(levelname)s %(name)s %(message)s"


class WithoutSecrets(logging.Formatter):
    """What stands in an address after the place that a secret follows is left out, also of a traceback."""

    def __init__(self) -> None:
        super().__init__(_LINE)

    def format(self, record: logging.LogRecord) -> str:
        return _SECRET.sub(r"\1…", super().format(record))
