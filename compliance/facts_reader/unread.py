"""The names of members that no rule reads: a label's bound, a member of an earlier treatment."""

import re

from records.document.context import Context
from records.document.member_labels import member_label
from records.document.types import Part, TreatmentDocument
from shared.wording import Wording

_EARLIER = re.compile(r"context\.earlier(?:\[\d+\])?\.?")


def label_of(path: str, root: type[Part]) -> Wording:
    """The label of a member in every language."""
    return Wording(member_label(path, "en", root), member_label(path, "es", root))


def unread(path: str) -> Wording | None:
    """The name of such a member."""
    earlier = _EARLIER.match(path)
    rest = path[earlier.end() :] if earlier else path
    try:
        named = label_of(rest, TreatmentDocument) if rest else None
    except KeyError:
        return None
    if earlier is None:
        return named
    before = label_of("earlier", Context)
    return Wording(f"{before.en}: {named.en}", f"{before.es}: {named.es}") if named else before
