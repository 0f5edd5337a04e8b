"""Make backups in processes that are killed at random moments, while the service goes on signing; a program.

`python -m tests.faults.kill_backups 200` prints one JSON line: how many processes were killed and how many came
to their end, how many files have the name of a backup, what of them is no whole one, and what does not hold.
"""

import json
import sys
import tempfile
from pathlib import Path
from typing import Any

import django

django.setup()

from django.core.management import call_command  # noqa: E402

from records.backup.archive import opened, unpack  # noqa: E402
from records.backup.making import make_backup  # noqa: E402
from records.backup.wordings import BackupError  # noqa: E402
from records.log_check import look_at_log  # noqa: E402
from records.models import SignedRecord  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402
from tests.faults.kill_at_random import Killed, as_it_is, sign  # noqa: E402
from tests.faults.sign_and_die import planned  # noqa: E402


class Backups(Killed):
    def go(self, many: int, folder: Path) -> dict[str, Any]:
        self.sign_one()
        self.measure(lambda: make_backup(folder / "first.zip"))
        for number in self.rounds(many):
            file = folder / f"{number}.zip"
            self.attempt(lambda file=file: make_backup(file))
            if number % 5 == 1:
                self.sign_one()
            if file.exists() and not whole(file):
                self.halves.append(file.name)
        named = sorted(folder.glob("*.zip"))
        self.halves += [half.name for half in folder.glob(".*.part") if taken_for_whole(half)]
        again = [self.made_again(folder / f"{number}.zip") for number in range(1, number + 1)]
        return {
            "killed": self.killed,
            "ended": self.ended,
            "asked": number + 1,
            "named": len(named),
            "halves": self.halves,
            "made_again": again.count(True),
            "signed": SignedRecord.across_firms.count(),
            "log": [str(each) for each in look_at_log(self.member.firm).broken],
        }

    def sign_one(self) -> None:
        sign(as_it_is(planned(self.member)))

    def made_again(self, file: Path) -> bool:
        """Whether what a killed one left behind does not stand in the way of the next of the same name."""
        if file.exists():
            return False
        make_backup(file)
        return whole(file)


def whole(file: Path) -> bool:
    """Whether all that the manifest states is there as it is stated."""
    try:
        with opened(file) as (archive, manifest), tempfile.TemporaryDirectory() as folder:
            for name, stated in manifest["files"].items():
                unpack(archive, name, stated, Path(folder) / name)
            return any(name.startswith("database") for name in manifest["files"])
    except BackupError:
        return False


def taken_for_whole(half: Path) -> bool:
    """Whether a restore would take it up to its end, though it is not whole."""
    try:
        with opened(half):
            return not whole(half)
    except BackupError:
        return False


def main() -> None:
    call_command("migrate", verbosity=0)
    with tempfile.TemporaryDirectory() as folder:
        found = Backups(MembershipFactory()).go(int(sys.argv[1]), Path(folder))
    sys.stdout.write(json.dumps(found) + "\n")


if __name__ == "__main__":
    main()
