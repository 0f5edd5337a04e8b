"""How many notices go out by which means, in words."""

from collections.abc import Sequence

from django.utils.translation import ngettext


def said_count(means: Sequence[str]) -> str:
    """`3 e-mails, 2 letters`."""
    counts = [(word, sum(one in group for one in means)) for word, group in _GROUPS]
    return ", ".join(word(count) for word, count in counts if count)


def _emails(count: int) -> str:
    return ngettext("%(n)d e-mail", "%(n)d e-mails", count) % {"n": count}


def _letters(count: int) -> str:
    return ngettext("%(n)d letter", "%(n)d letters", count) % {"n": count}


def _cards(count: int) -> str:
    return ngettext("%(n)d door card", "%(n)d door cards", count) % {"n": count}


def _texts(count: int) -> str:
    return ngettext("%(n)d text message", "%(n)d text messages", count) % {"n": count}


def _talks(count: int) -> str:
    return ngettext("%(n)d call", "%(n)d calls", count) % {"n": count}


def _handed(count: int) -> str:
    return ngettext("%(n)d card to hand over", "%(n)d cards to hand over", count) % {"n": count}


_GROUPS = (
    (_emails, ("email",)),
    (_texts, ("text-message",)),
    (_letters, ("letter",)),
    (_cards, ("door",)),
    (_handed, ("in-person",)),
    (_talks, ("phone",)),
)
