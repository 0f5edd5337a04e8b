"""Names, e-mail addresses and numbers in the one form in which the same ones are equal. Pure."""

import re
import unicodedata


def folded(name: str) -> str:
    """Without differences of case, spaces and ways to write a letter."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def reached_at(means: str, email: str, phone: str) -> str:
    """By which address or number a means reaches the person; empty for what reaches a door."""
    if means == "email":
        return folded(email)
    return re.sub(r"[^0-9+]", "", phone) if means in ("phone", "text-message") else ""


def on_one_line(text: str) -> str:
    """Without what a header of a mail may not hold."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
