"""Ticks over a closed list: which are called for, which are folded away, and which items are theirs."""

from collections.abc import Callable, Collection, Mapping
from typing import Any

from records.forms.table import Ticks, Words

Groups = list[tuple[Words, list[tuple[str, str]]]]


def groups_of(
    table: Ticks, document: Mapping[str, Any], ticked: Collection[str], say: Callable[[str], str]
) -> tuple[Groups, Groups]:
    """The groups with their words: those that are called for or ticked, and the others."""
    if table.called_for is None:
        return _chosen(table, lambda word: True, say), []
    called = table.called_for(document).union(ticked)
    front = _chosen(table, lambda word: word in called, say)
    return front, _chosen(table, lambda word: word not in called, say)


def is_of(table: Ticks, word: Any) -> bool:
    """Whether an item with this word is the table's; what no table knows is where there may be none at all."""
    own = {each for _title, words in table.groups for each in words}
    return word in own or (bool(table.none) and word is None)


def _chosen(table: Ticks, wanted: Callable[[str], bool], say: Callable[[str], str]) -> Groups:
    groups = ((title, [(word, say(word)) for word in words if wanted(word)]) for title, words in table.groups)
    return [(title, words) for title, words in groups if words]
