"""The difference between two checks of a record, in words. Pure: reads two `stored-check/1`."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from compliance.compare_words import (
    WORDINGS,
    WORDS,
    cited,
    limit,
    limited,
    of,
    said,
    version,
    word,
    wording,
)
from shared.wording import Blank, Blanks, Sayable, fill

Json = Mapping[str, Any]
Pairs = Iterator[tuple[Json | None, Json | None]]

WEIGHTY = frozenset(
    ["whole", "came", "went", "outcome", "level", "bound", "limit", "limit_came", "limit_went"]
)
"""Differences by which a record comes out differently; the others say why, or that the words changed."""

_MEMBERS = ("outcome", "level", "bound", "observed", "due", "keep_until", "cite")


@dataclass(frozen=True)
class Difference:
    """One thing that differs; `kind` is the id of its sentence, `rule` the rule that it is about, if any."""

    kind: str
    blanks: Blanks = field(default_factory=dict[str, Blank])
    rule: str = ""

    @property
    def weighty(self) -> bool:
        """Whether the record comes out differently by it."""
        return self.kind in WEIGHTY

    def say(self, language: str) -> str:
        """The sentence for a person."""
        return fill(WORDINGS[self.kind], self.blanks, language).strip()


@dataclass(frozen=True)
class Comparison:
    """What a later check says otherwise than an earlier one; weighty differences come first."""

    differences: tuple[Difference, ...]

    @property
    def differs(self) -> bool:
        """Whether the record comes out differently: a finding, its level or bound, a limit, or the whole."""
        return any(difference.weighty for difference in self.differences)

    def in_words(self, language: str) -> list[str]:
        """A sentence for each difference; one that says so if there is none."""
        sentences = [difference.say(language) for difference in self.differences]
        return sentences or [WORDS["same"].say(language)]


def compare(before: Json, after: Json) -> Comparison:
    """The differences from one stored check to another.

    Findings are matched by rule and by what they judge; limits by quantity and thing; packs by id.
    """
    found = [
        *_changed(before, after, "whole", "outcome"),
        *_of_findings(before["findings"], after["findings"]),
        *_of_limits(before["limits"], after["limits"]),
        *_of_packs(before["packs"], after["packs"]),
        *_of_places(before["not_covered"], after["not_covered"]),
        *_of_questions(before["questions"], after["questions"]),
        *_of_answers(before.get("determinations", ()), after.get("determinations", ())),
        *_of_circumstances(before, after),
    ]
    return Comparison(tuple(sorted(found, key=lambda one: not one.weighty)))


def _of_findings(before: Sequence[Json], after: Sequence[Json]) -> Iterator[Difference]:
    for old, new in _pairs(before, after, lambda one: (one["rule"],), lambda one: tuple(one["about"])):
        if old is None and new is not None:
            yield _finding("came", new, after=word(new["outcome"]))
        elif new is None and old is not None:
            yield _finding("went", old, before=word(old["outcome"]))
        elif old and new:
            for member in _MEMBERS:
                if old[member] != new[member]:
                    yield _finding(member, new, before=of(old, member), after=of(new, member))


def _finding(kind: str, finding: Json, **blanks: Sayable) -> Difference:
    about: dict[str, Blank] = {
        "title": wording(finding["title"]),
        "cite": cited(finding["cite"]),
        "message": wording(finding["message"]),
    }
    return Difference(kind, {**about, **blanks}, finding["rule"])


def _of_limits(before: Sequence[Json], after: Sequence[Json]) -> Iterator[Difference]:
    for old, new in _pairs(before, after, lambda one: (one["quantity"], one["for"]), _sides):
        if old == new:
            continue
        blanks = {"quantity": limited(new or old or {})}
        blanks |= {"before": limit(old)} if old else {}
        blanks |= {"after": limit(new)} if new else {}
        yield Difference(_limit_kind(old, new), blanks)


def _limit_kind(old: Json | None, new: Json | None) -> str:
    if old and new:
        return "limit_by" if (old["min"], old["max"]) == (new["min"], new["max"]) else "limit"
    return "limit_came" if new else "limit_went"


def _of_packs(before: Sequence[Json], after: Sequence[Json]) -> Iterator[Difference]:
    for old, new in _pairs(before, after, lambda one: (one["pack"],), lambda one: ()):
        if old and new and old["digest"] == new["digest"]:
            continue
        blanks: dict[str, Blank] = {"title": wording((new or old or {})["title"])}
        same = bool(old and new and old["version"] == new["version"])
        blanks |= {"before": version(old, same)} if old else {}
        blanks |= {"after": version(new, same)} if new else {}
        yield Difference("pack" if old and new else "pack_came" if new else "pack_went", blanks)


def _of_places(before: Sequence[str], after: Sequence[str]) -> Iterator[Difference]:
    yield from (Difference("place_came", {"after": place}) for place in after if place not in before)
    yield from (Difference("place_went", {"before": place}) for place in before if place not in after)


def _of_questions(before: Sequence[Json], after: Sequence[Json]) -> Iterator[Difference]:
    for old, new in _pairs(before, after, lambda one: (one["id"],), lambda one: ()):
        if old is None and new is not None:
            yield Difference("question_came", {"after": wording(new["asks"])})
        elif new is None and old is not None:
            yield Difference("question_went", {"before": wording(old["asks"])})


def _of_answers(before: Sequence[Json], after: Sequence[Json]) -> Iterator[Difference]:
    for old, new in _pairs(before, after, lambda one: (one["question"],), lambda one: ()):
        if old and new and old["says"] != new["says"]:
            yield Difference("answer", {"before": wording(old["says"]), "after": wording(new["says"])})
        elif old is None and new is not None:
            yield Difference("answer_came", {"after": wording(new["says"])})
        elif new is None and old is not None:
            yield Difference("answer_went", {"before": wording(old["says"])})


def _of_circumstances(before: Json, after: Json) -> Iterator[Difference]:
    for member in ("document", "context", "on", "engine"):
        yield from _changed(before, after, member, member)


def _changed(before: Json, after: Json, kind: str, member: str) -> Iterator[Difference]:
    if before[member] != after[member]:
        yield Difference(kind, {"before": said(before[member]), "after": said(after[member])})


def _pairs(before: Sequence[Json], after: Sequence[Json], name: Any, thing: Any) -> Pairs:
    """What belongs together: the same name and thing; else the same name, as they stand."""
    left = _by_name(before, name)
    right = _by_name(after, name)
    for key in dict.fromkeys([*left, *right]):
        olds, news = left.get(key, []), right.get(key, [])
        for old in list(olds):
            if twin := next((new for new in news if thing(new) == thing(old)), None):
                olds.remove(old)
                news.remove(twin)
                yield old, twin
        yield from zip(olds, news, strict=False)
        yield from ((old, None) for old in olds[len(news) :])
        yield from ((None, new) for new in news[len(olds) :])


def _by_name(items: Iterable[Json], name: Any) -> dict[Any, list[Json]]:
    found: dict[Any, list[Json]] = {}
    for item in items:
        found.setdefault(name(item), []).append(item)
    return found


def _sides(limit: Json) -> tuple[bool, bool, str | None]:
    """On which sides it bounds, and whether it binds: the strictest that is advised may stand before the
    strictest that is required."""
    return limit["min"] is None, limit["max"] is None, limit.get("level")
