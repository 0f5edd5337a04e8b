"""The follow-ups of the record at hand: what follows another record says nothing of it."""

from compliance.rulebook.facts import Branch, Items, Leaf, Node, member
from records.document.types import TreatmentDocument


def with_own_follow_ups(context: Branch, document: TreatmentDocument) -> Branch:
    """The context without follow-ups that name the id of another record."""
    follow_ups, own = context.members.get("follow_ups"), document.record.id
    if not isinstance(follow_ups, Items) or own is None:
        return context
    kept = tuple(one for one in follow_ups.items if _followed(one) in (None, own.lower()))
    members = {**context.members, "follow_ups": Items(kept, follow_ups.about, follow_ups.lacks)}
    return Branch(context.path, members)


def _followed(follow_up: Node) -> str | None:
    follows = member(follow_up, "follows") if isinstance(follow_up, Branch) else None
    known = member(follows, "id") if isinstance(follows, Branch) else None
    return known.value.lower() if isinstance(known, Leaf) and isinstance(known.value, str) else None
