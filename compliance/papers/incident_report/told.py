"""What the report is drawn from: an incident as plain data."""

from collections.abc import Sequence
from dataclasses import dataclass

from records.document.types import Product
from shared.quantities import Quantity


@dataclass(frozen=True)
class Step:
    """Somebody who was told, or what was done since; `at` is an RFC 3339 time."""

    at: str
    by: str
    text: str = ""
    to: str = ""
    how: str = ""
    number: str = ""
    under: str = ""


@dataclass(frozen=True)
class Told:
    """An incident with who reports it. Times are RFC 3339; `names` empty: nobody asked for them, `named` says
    whether there are any. `customary`: whether United States units are read there."""

    firm: str
    address: str
    phone: str
    kind: str
    state: str
    happened_at: str
    known_at: str
    begun_at: str
    begun_by: str
    zone: str
    customary: bool
    place: str = ""
    description: str = ""
    amount: Quantity | None = None
    reached: Sequence[str] = ()
    affected: str = ""
    names: str = ""
    named: bool = False
    action: str = ""
    product: Product | None = None
    told: Sequence[Step] = ()
    since: Sequence[Step] = ()
    number: str = ""
    signed: bool = False
