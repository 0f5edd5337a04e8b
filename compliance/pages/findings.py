"""Findings as a page shows them, grouped by what they say."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from compliance.pages.remarks import remark_of, state_of
from records.pages.remarks import Remark, said_once

Json = Mapping[str, Any]


@dataclass(frozen=True)
class Group:
    title: str
    remarks: Sequence[Remark]
    folded: bool


def grouped(check: Json, language: str, without_open: bool = False) -> list[Group]:
    """Findings in the order in which a person should read them; those that ask for nothing are folded.

    With `without_open` those are left out that are required and open, where each has a box of its own.
    """
    titles = {
        ("not_met", True): _("Not met, required"),
        ("cant_tell", True): _("Can't tell, required"),
        ("not_met", False): _("Not met, advised"),
        ("cant_tell", False): _("Can't tell, advised"),
        ("to_do", None): _("Still to do"),
        ("met", None): _("Met"),
        ("not_applicable", None): _("Doesn't apply"),
    }
    groups = []
    for (outcome, required), title in titles.items():
        if without_open and required:
            continue
        remarks = [
            remark_of(finding, language)
            for finding in check["findings"]
            if state_of(finding) == outcome and required in (None, finding["level"] == "required")
        ]
        if remarks:
            groups.append(Group(title, said_once(remarks), folded=required is None))
    return groups


def not_checked(check: Json, language: str) -> list[str]:
    """What a check leaves out, so that 'met' is no more than it is."""
    return [each[language] for each in check["not_checked"]]
