"""The demo firms' sign-ins: pass phrases made on the first run, in a file that only this user can read."""

import os
import secrets
from pathlib import Path

from project.demo.source import FirmSource

FILE_NAME = "demo-sign-ins.txt"
SYLLABLES = [
    *("bel", "bor", "cal", "dan", "del", "fen", "fir", "gar", "hol", "jun", "kel"),
    *("lan", "lor", "mar", "mel", "nor", "oak", "pel", "quil", "ren", "ros", "sal"),
    *("sor", "tam", "tel", "tor", "van", "ver", "wen", "wil", "yar", "zel"),
]


def new_pass_phrase() -> str:
    """Four made-up words of two syllables: easy to type, and 40 bits of chance behind a limit on attempts."""
    words = [secrets.choice(SYLLABLES) + secrets.choice(SYLLABLES) for _ in range(4)]
    return "-".join(words)


def new_pass_phrases(source: FirmSource) -> dict[str, str]:
    return {member["email"]: new_pass_phrase() for member in source.firm["members"]}


def write(path: Path, sources: list[FirmSource], pass_phrases: dict[str, str]) -> None:
    """Keep the sign-ins where `make run` prints them from; mode 0600 from the start."""
    lines = ["Sign in with e-mail and password. Invented people, made on this machine's first run:", ""]
    for source in sources:
        lines.append(source.firm["name"])
        for member in source.firm["members"]:
            lines.append(f"  {member['role']:<9}  {member['email']:<36}  {pass_phrases[member['email']]}")
        lines.append("")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
        file.write("\n".join(lines))
