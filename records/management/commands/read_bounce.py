"""`manage.py read_bounce`: read one returned mail from standard input, as a mail server hands it to a program.

Exit code 0: read, whether or not it is of a notice; a mail server would return anything else to its sender. A
mail that is of no notice is told to the log, by the Message-ID under which the mail server knows it.
"""

import logging
import sys
from typing import Any

from django.core.management.base import BaseCommand

from records.outbox.returned import MOST_BYTES, message_id_of, read_returned
from records.outbox.returning import take_returned

PIECE = 1_000_000
logger = logging.getLogger(__name__)


class Command(BaseCommand):
    help = "Read one returned mail from standard input, and note with its notice what it reports."

    def handle(self, **_options: Any) -> None:
        raw, more = sys.stdin.buffer.read(MOST_BYTES), 0
        while piece := sys.stdin.buffer.read(PIECE):
            more += len(piece)
        returned = read_returned(raw)
        notice = take_returned(returned) if returned else None
        if notice is None:
            unread = f"; its last {more} bytes were not looked at" if more else ""
            logger.warning("A returned mail is of no notice of ours: %s%s", message_id_of(raw) or "?", unread)
        self.stdout.write(f"{notice.pk}: {notice.state}" if notice else "no notice of ours")
