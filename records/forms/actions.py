"""What the form's buttons do besides saving: add, remove, now, what is offered, and which of two is right."""

from collections.abc import Callable, Sequence
from typing import Any

from records.document.edits import Edit
from records.document.members import member_at
from records.document.paths import pattern_of
from records.document.words import WORD_LISTS
from records.forms.beaufort import forces_in
from records.forms.begun import added_once, id_told
from records.forms.bound import Field, Item, ItemList, fields_of, lists_of
from records.forms.calculator import use
from records.forms.choices import new_item
from records.forms.controls import LongText
from records.forms.draw import draw, use_left_over
from records.forms.earlier import before_of
from records.forms.posted import Posted
from records.forms.reasons import members_for
from records.forms.taken_out import place_again

Setting = dict[str, Any]


def act(
    action: str, posted: Posted, blocks: Sequence[Any], edits: list[Edit], setting: Setting
) -> list[Edit]:
    """The page's edits with those that the pressed button adds. An action on what is not there adds none."""
    return [*edits, *ACTIONS[action](posted, posted.data[action], blocks, setting)]


def _add(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    found = next((each for each in lists_of(blocks) if each.path == path), None)
    if not isinstance(found, ItemList):
        return []
    if not member_at(pattern_of(path)).has_ids:
        return [added_once(posted.edit(f"{path}[{len(found.items)}]", {}), path, posted)]
    kind = found.table.chosen_from
    chosen = posted.data.get(f"new:{path}", "")
    if kind and not chosen:
        return []
    item = new_item(kind, setting["firm"], chosen, setting["day"])
    if not kind:
        item["id"] = id_told(posted) or item["id"]
    if found.table.begun_at and not setting["correcting"]:
        item[found.table.begun_at] = setting["now"]
    new_path = f"{path}[{item['id']}]"
    if any(each.path == new_path for each in found.items):
        return []
    edit = posted.edit(new_path, item)
    return [edit if kind else added_once(edit, path, posted)]


def _remove(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    there = any(item.path == path for each in lists_of(blocks) for item in each.items)
    return [posted.edit(path, None)] if there else []


def _now(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    return [posted.edit(path, setting["now"])] if _field(blocks, path) else []


def _take(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    field = _field(blocks, path)
    if not (field and field.offer):
        return []
    taken = {path: field.offer, **field.offer_follows}
    return [posted.edit(member, value) for member, value in taken.items()]


def _pick(posted: Posted, picked: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    """A lot on hand: the button names the field and the number of the lot."""
    path, _bar, number = picked.partition("|")
    field = _field(blocks, path)
    return [posted.edit(path, number)] if field and field.on_container and number else []


def _as_before(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    item = _item(blocks, path)
    before = item and before_of(item, setting["earlier"]())
    return [posted.edit(field.path, value) for field, value in before.values] if before else []


def _see(posted: Posted, seen: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    """The wind by the force that was seen: the button names the reading and the number of the force."""
    path, _bar, number = seen.rpartition("|")
    reading = _item(blocks, path)
    unit = posted.data.get(f"u:{path}.wind_speed", "")
    force = next((force for force in forces_in(unit) if str(force.number) == number), None)
    if reading is None or force is None or not any(block.kind == "wind" for block in reading.blocks):
        return []
    seen_at = {} if reading.value.get("at") or setting["correcting"] else {"at": setting["now"]}
    members = force.members() | seen_at
    return [posted.edit(f"{path}.{name}", value) for name, value in members.items()]


def _stand_down(posted: Posted, reason: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    asked = any(block.kind == "reasons" for block in blocks) and reason in WORD_LISTS["stand_down_reason"]
    return [posted.edit(path, value) for path, value in members_for(reason).items()] if asked else []


def _undo(posted: Posted, token: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    return [posted.edit(path, value) for path, value in place_again(token, setting["document"])]


def _keep_mine(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    field = _field(blocks, path)
    typed = posted.typed(field) if field else None
    if field is None or typed is None:
        return []
    return [posted.edit(path, field.control.read(typed), setting["revision"])]


def _keep_both(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    """In free text neither need be wrong: what the other wrote, and then one's own."""
    field = _field(blocks, path)
    typed = posted.typed(field) if field else None
    if field is None or typed is None or not isinstance(field.control, LongText):
        return []
    texts = (text for text in (field.value, field.control.read(typed)) if text)
    return [posted.edit(path, "\n\n".join(texts), setting["revision"])]


def _keep_theirs(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    return []


def _calculate(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    return []


def _use(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    mixes = (item for each in lists_of(blocks) if each.path == "mixes" for item in each.items)
    item = next((mix for mix in mixes if mix.path == path), None)
    return use(posted, item, setting["document"]) if item else []


def _draw(posted: Posted, path: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    item = _item(blocks, path) if pattern_of(path) == "mixes[]" else None
    return draw(posted, item, setting) if item else []


def _left_over(posted: Posted, key: str, blocks: Sequence[Any], setting: Setting) -> list[Edit]:
    asked = any(isinstance(each, ItemList) and each.table.calculator for each in lists_of(blocks))
    return use_left_over(posted, key, setting) if asked else []


def _item(blocks: Sequence[Any], path: str) -> Item | None:
    items = (item for each in lists_of(blocks) for item in each.items)
    return next((item for item in items if item.path == path), None)


def _field(blocks: Sequence[Any], path: str) -> Field | None:
    return next((field for field in fields_of(blocks) if field.path == path), None)


ACTIONS: dict[str, Callable[[Posted, str, Sequence[Any], Setting], list[Edit]]] = {
    "add": _add,
    "remove": _remove,
    "now": _now,
    "take": _take,
    "pick": _pick,
    "as-before": _as_before,
    "see": _see,
    "stand-down": _stand_down,
    "undo": _undo,
    "keep-mine": _keep_mine,
    "keep-both": _keep_both,
    "keep-theirs": _keep_theirs,
    "calculate": _calculate,
    "use": _use,
    "draw": _draw,
    "left-over": _left_over,
}
