"""Note who did what, in the transaction of what it tells, so that neither is there without the other."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Model

from records.models import AuditEntry, Firm, Membership, Treatment, User

Kind = AuditEntry.Kind
Json = dict[str, Any]

LONGEST_NAME = AuditEntry._meta.get_field("thing_name").max_length
LONGEST_PAGE = AuditEntry._meta.get_field("page").max_length


@dataclass(frozen=True)
class Thing:
    """What something was done to: the kind of thing, its id and its name."""

    kind: str
    id: str = ""
    name: str = ""

    @classmethod
    def of(cls, row: Model) -> "Thing":
        return cls(row._meta.label_lower, str(row.pk), str(row))


def change(member: str, old: Any, new: Any) -> Json:
    """One old and new value; both are JSON."""
    return {"member": member, "old": old, "new": new}


def note(
    kind: Kind,
    thing: Thing | Model,
    *,
    firm: Firm | None,
    by: Any = None,
    changes: Sequence[Json] = (),
    reason: str = "",
    page: str = "",
) -> AuditEntry:
    """Add one entry. `by` is the user; whoever is not signed in is nobody."""
    entry = entry_of(kind, thing, firm=firm, by=by, changes=changes, reason=reason, page=page)
    entry.save(force_insert=True)
    return entry


def entry_of(
    kind: Kind,
    thing: Thing | Model,
    *,
    firm: Firm | None,
    by: Any = None,
    changes: Sequence[Json] = (),
    reason: str = "",
    page: str = "",
) -> AuditEntry:
    """An entry that is not there yet."""
    about = thing if isinstance(thing, Thing) else Thing.of(thing)
    user = by if isinstance(by, User) else None
    return AuditEntry(
        firm=firm,
        zone=firm.time_zone if firm else "UTC",
        by_id=user.pk if user else None,
        by_name=user.name if user else "",
        kind=kind,
        thing=about.kind,
        thing_id=about.id[:100],
        thing_name=about.name[:LONGEST_NAME],
        treatment=thing if isinstance(thing, Treatment) and not thing.is_brought_in else None,
        changes=_by_section(changes),
        reason=reason,
        page=page[:LONGEST_PAGE],
    )


def note_of_account(kind: Kind, user: User, *, by: Any = None, **more: Any) -> None:
    """What concerns an account stands in each of its firms; in none only where it has none."""
    for firm in firms_of(user) or [None]:
        note(kind, user, firm=firm, by=by, **more)


def _by_section(changes: Iterable[Json]) -> dict[str, list[Json]]:
    sections: dict[str, list[Json]] = {}
    for each in changes:
        sections.setdefault(re.split(r"[.\[]", each["member"], maxsplit=1)[0], []).append(each)
    return sections


def firms_of(user: User) -> list[Firm]:
    """The firms that what concerns this account is told in."""
    memberships: Iterable[Membership] = user.counted_memberships().select_related("firm")
    return [membership.firm for membership in memberships]
