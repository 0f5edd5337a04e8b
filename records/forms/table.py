"""What the crew's form is made of: a member's kind decides its control, a question adds words."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise

Words = str | Promise


@dataclass(frozen=True)
class Question:
    """One member of the document, asked of a person.

    `member` is a path from the document, or within a list from its item. `unit` is offered first where
    nothing was entered, `alone` where the trade knows no other one. `names` is the pattern of the names that
    may be chosen (`people[].name`); `compass` asks for a direction by its points; `now` offers this moment.
    `label_asks` is the pattern of words that the labels in the mix ask for, said in place of the hint.
    `offers` works out an answer, which is taken at a touch; `as_before` offers what was answered the last time;
    `on_container` offers the lots on hand, and to read the code on the container.
    """

    member: str
    asks: Words
    hint: Words = ""
    unit: str = ""
    alone: bool = False
    names: str = ""
    compass: bool = False
    now: bool = False
    label_asks: str = ""
    offers: "Offer | None" = None
    as_before: bool = False
    on_container: bool = False


@dataclass(frozen=True)
class Offer:
    """An answer that follows from the document and the item that is asked about, None while it can't be worked
    out; `words` offer it (%(what)s). `follows` says what else is so of the item when it is taken; where that is
    anything, `saying_so` are the words. A device works it out by itself, under this `name`."""

    name: str
    works_out: Callable[[Mapping[str, Any], Mapping[str, Any]], Any]
    words: Words
    follows: Callable[[Mapping[str, Any]], Mapping[str, Any]] | None = None
    saying_so: Words = ""


@dataclass(frozen=True)
class Shown:
    """Members that are known and stand here to be read."""

    rows: tuple[tuple[str, Words], ...]


@dataclass(frozen=True)
class Spread:
    """A short list without ids of which each item is one amount for one word or name.

    Minutes on ladder and roof, mix on each surface. `key` and `amount` are members of an item; the words are
    those of the key's kind, or the names under `names`.
    """

    member: str
    asks: Words
    key: str
    amount: str
    hint: Words = ""
    unit: str = ""
    names: str = ""


@dataclass(frozen=True)
class Ticks:
    """A list of things done, ticked off: a tick adds an item with `key`, now and the person.

    `none` says that there is none, which is another thing than to leave the question open. Of `groups` those
    words stand in front that `called_for` finds in the document; the others are folded away.
    """

    member: str
    asks: Words
    key: str
    groups: tuple[tuple[Words, tuple[str, ...]], ...]
    details: tuple[Question, ...] = ()
    hint: Words = ""
    none: Words = ""
    called_for: Callable[[Mapping[str, Any]], frozenset[str]] | None = None


@dataclass(frozen=True)
class Items:
    """A list whose items are added and removed.

    `called` is the member that titles an item; `chosen_from` the reference rows (`people`, `rigs`, `labels`)
    from which a new item is written, when it is not begun empty. Without `add` nothing is added or removed.
    `none` says that there is none, which is another thing than to leave the question open. `begun_at` is the
    member of a new item that starts with the present moment. Where there is no item, `opens_one` shows an empty
    one, which begins once something is entered into it. `begun_elsewhere` shows an item, too, that a device has
    begun on another screen. Where it `takes_photos`, there is a place for them beside each item.
    """

    member: str
    title: Words
    one: Words
    add: Words
    blocks: "tuple[Block, ...]"
    called: str = ""
    chosen_from: str = ""
    hint: Words = ""
    calculator: bool = False
    none: Words = ""
    begun_at: str = ""
    opens_one: bool = False
    begun_elsewhere: bool = False
    takes_photos: bool = False


@dataclass(frozen=True)
class Sketch:
    """The site's features, drawn around what is treated and listed in words."""

    title: Words


@dataclass(frozen=True)
class WindSeen:
    """A guide to the wind by what is seen, for who has no instrument; `unit` is told first."""

    title: Words
    unit: str


@dataclass(frozen=True)
class StandDownReasons:
    """A button for each reason to stand the day down, which says so and goes on to the signature."""

    title: Words


@dataclass(frozen=True)
class FromRows:
    """Members that are written from reference rows: read in a draft (`shown`), asked in a correction."""

    shown: Shown
    blocks: "tuple[Block, ...]"


@dataclass(frozen=True)
class Folded:
    """Questions that are seldom touched: folded away, until something is said about one of them."""

    title: Words
    blocks: "tuple[Block, ...]"


Block = Question | Shown | Sketch | WindSeen | StandDownReasons | Spread | Ticks | Items | FromRows | Folded


@dataclass(frozen=True)
class Section:
    """One screen of the form. `prefixes` are patterns of the members that are its business, `limits` the limits
    (words of `limit_quantity`) that whoever fills it in should have before the eyes."""

    slug: str
    title: Words
    lead: Words
    blocks: tuple[Block, ...]
    prefixes: tuple[str, ...]
    limits: tuple[str, ...] = ()
