"""Open required findings as the sign page asks about them: one reason for each thing to mend."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _

from compliance.pages.remarks import remark_of
from compliance.pages.sign_faults import Fault, fault_of_reason
from records.pages.remarks import Remark, said_once

Json = Mapping[str, Any]
Answers = Iterable[Mapping[str, Any]]


@dataclass(frozen=True)
class Open:
    """One thing to mend: all that is said about it, and the one reason that answers it.

    `key` names its findings in the form.
    """

    number: int
    key: str
    remarks: Sequence[Remark]
    reason: str
    fault: str | Promise

    @property
    def words(self) -> str:
        """What the reason is about, in one line."""
        return " ".join(str(remark.words) for remark in self.remarks)


def opened(findings: Sequence[Json], answers: Answers, language: str, judged: bool) -> list[Open]:
    """What wants a reason, with what was given for it; if `judged`, with what is wrong with the reason."""
    given = {_names(answer): str(answer["reason"]) for answer in answers}
    found = []
    for number, about_one in enumerate(_by_what_to_mend(findings)):
        names = [_names(finding) for finding in about_one]
        reason = "\n".join(dict.fromkeys(given[name] for name in names if given.get(name)))
        remarks = said_once(remark_of(finding, language) for finding in about_one)
        fault = fault_of_reason(reason) if judged else ""
        found.append(Open(number, json.dumps(names), remarks, reason, fault))
    return found


def fault_of_box(box: Open) -> Fault:
    """What is wrong with the reason of a box, and of what it is the reason."""
    words = _("%(fault)s It is about: %(what)s") % {"fault": box.fault, "what": box.remarks[0].words}
    return Fault(words, f"reason-{box.number}")


def named_in(key: str) -> Iterator[tuple[str, list[str]]]:
    """Rule and members of each finding that a key of the form names; nothing where it is none."""
    try:
        pairs = [(str(rule), [str(path) for path in about]) for rule, about in json.loads(key)]
    except (TypeError, ValueError, RecursionError):
        return
    yield from pairs


def _by_what_to_mend(findings: Sequence[Json]) -> Iterable[list[Json]]:
    """The findings, those together whose first member, the one to mend first, is the same."""
    grouped: dict[str, list[Json]] = {}
    for finding in findings:
        first = next(iter(finding["about"]), finding["rule"])
        grouped.setdefault(first, []).append(finding)
    return grouped.values()


def _names(of: Json) -> tuple[str, tuple[str, ...]]:
    return of["rule"], tuple(of["about"])
