"""A telephone number as a link calls it."""

import re

from django import template

register = template.Library()


@register.filter
def dialled(written: str) -> str:
    """Without blanks and what else parts its digits; a + at its beginning stays (RFC 3966, 5.1.1)."""
    plus = "+" if written.lstrip().startswith("+") else ""
    return plus + re.sub(r"\D", "", written)
