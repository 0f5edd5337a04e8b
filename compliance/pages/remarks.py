"""From a check to what stands beside the fields of a draft."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from records.document.words import WORD_LISTS
from records.pages.remarks import LimitInForce, Remark, Remarks
from shared.quantities import read

Json = Mapping[str, Any]

STAGES = ("before", "during", "after")
SHOWN = ("not_met", "cant_tell")


def state_words(state: str) -> str:
    return {
        "not_met": _("Not met:"),
        "cant_tell": _("Can't tell:"),
        "to_do": _("Still to do:"),
        "met": _("Met:"),
        "not_applicable": _("Doesn't apply:"),
    }[state]


def remarks_of(check: Json, document: Json, language: str) -> Remarks:
    """What a draft's check has to say: findings that are not met, open or still to do, and the limits."""
    passed = stages_passed(document)
    findings = [each for each in check["findings"] if each["outcome"] in SHOWN]
    return Remarks(
        [remark_of(finding, state_on_a_draft(finding, passed), language) for finding in findings],
        [limit_of(limit, language) for limit in check["limits"]],
    )


def stages_passed(document: Json) -> tuple[str, ...]:
    """The stages of the work that lie behind a draft: before, once spraying began; during, once it ended."""
    timing = document.get("timing") or {}
    if timing.get("finished_at"):
        return STAGES[:2]
    return STAGES[:1] if timing.get("started_at") else ()


def state_on_a_draft(finding: Json, passed: tuple[str, ...]) -> str:
    """What is only missing, and not late yet, is still to do; what was measured out of bounds is not met."""
    measured = finding["observed"] is not None
    if finding["stage"] in passed or (finding["outcome"] == "not_met" and measured):
        return str(finding["outcome"])
    return "to_do"


def remark_of(finding: Json, state: str, language: str) -> Remark:
    doubt = finding.get("doubt")
    return Remark(
        about=tuple(finding["about"]),
        state=state,
        state_words=state_words(state),
        words=" ".join(part[language] for part in (finding["message"], doubt) if part),
        cite=finding["cite"],
        advised=finding["level"] != "required",
    )


def limit_of(limit: Json, language: str) -> LimitInForce:
    wording = WORD_LISTS["limit_quantity"].get(limit["quantity"])
    return LimitInForce(
        of=wording.say(language) if wording else limit["quantity"],
        bound=bound_words(limit["min"], limit["max"], language),
        set_by=limit["set_by"]["cite"],
    )


def bound_words(least: Any, most: Any, language: str) -> str:
    """`at least A`, `at most B`, or both."""
    parts = []
    if least is not None:
        parts.append(_("at least %(amount)s") % {"amount": said(least, language)})
    if most is not None:
        parts.append(_("at most %(amount)s") % {"amount": said(most, language)})
    return ", ".join(parts)


def said(value: Any, language: str) -> str:
    """A bound or an observed value in words: text, a quantity, or `{min, max}`; '' for none."""
    if value is None:
        return ""
    if isinstance(value, Mapping):
        if "unit" in value:
            return read(dict(value)).say(language)
        return bound_words(value.get("min"), value.get("max"), language)
    return str(value)
