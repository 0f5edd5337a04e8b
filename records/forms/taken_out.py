"""What was just taken out of the document, so that it can be put back: the page carries it, sealed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.core import signing

from records.document.edits import AppliedEdit
from records.document.placing import value_at
from records.forms.bound import lists_of

_SALT = "taken out"


@dataclass(frozen=True)
class TakenOut:
    """One item that is gone, by its title, and the token that puts it back."""

    title: str
    token: str


def taken_out(
    before: Mapping[str, Any], applied: Sequence[AppliedEdit], blocks: Sequence[Any]
) -> list[TakenOut]:
    """The items that the edits have taken out of the document `before`, of which `blocks` were shown."""
    titles = {item.path: item.title for each in lists_of(blocks) for item in each.items}
    gone = [edit.path for edit in applied if edit.value is None and edit.path in titles]
    record = (before.get("record") or {}).get("id")
    return [TakenOut(titles[path], _sealed([record, path, value_at(dict(before), path)])) for path in gone]


def _sealed(what: list[Any]) -> str:
    return signing.dumps(what, salt=_SALT, compress=True)


def place_again(token: str, document: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """Path and value of what is put back; nothing for a token of another treatment or of nobody's making."""
    try:
        record, path, value = signing.loads(token, salt=_SALT)
    except signing.BadSignature:
        return
    if record != (document.get("record") or {}).get("id"):
        return
    around, _bracket, item = path.removesuffix("]").rpartition("[")
    if item.isdigit():
        path = f"{around}[{len(value_at(dict(document), around) or [])}]"
    yield path, value
