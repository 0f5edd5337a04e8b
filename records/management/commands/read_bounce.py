"""`manage.py read_bounce`: read one returned mail from standard input, as a mail server hands it to a program.

Exit code 0: read, whether or not it is of a notice; a mail server would return anything else to its sender.
"""

import sys
from typing import Any

from django.core.management.base import BaseCommand

from records.outbox.returned import MOST_BYTES, read_returned
from records.outbox.returning import take_returned


class Command(BaseCommand):
    help = "Read one returned mail from standard input, and note with its notice what it reports."

    def handle(self, **_options: Any) -> None:
        returned = read_returned(sys.stdin.buffer.read(MOST_BYTES + 1))
        notice = take_returned(returned) if returned else None
        self.stdout.write(f"{notice.pk}: {notice.state}" if notice else "no notice of ours")
