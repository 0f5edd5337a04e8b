"""From a check to what stands beside the fields of a draft."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from compliance.limit_words import quantity_words, set_by
from compliance.limits_once import limits_once
from compliance.said_in import cite_in
from compliance.services.check import check_treatment
from compliance.stored_sizes import stored_size
from records.models import Treatment
from records.pages.remarks import LimitInForce, Remark, Remarks, Source

Json = Mapping[str, Any]

TO_DO = "to_do"
SHOWN = ("not_met", "cant_tell", TO_DO)
SET_AT_SIGNING = (("timing.recorded_at",), ("record.entered_by",))


def state_words(state: str) -> str:
    return {
        "not_met": _("Not met:"),
        "cant_tell": _("Can't tell:"),
        "to_do": _("Still to do:"),
        "met": _("Met:"),
        "not_applicable": _("Doesn't apply:"),
    }[state]


def remarks_on(treatment: Treatment, language: str) -> Remarks:
    """What the rules have to say of a draft as it stands."""
    return remarks_of(check_treatment(treatment).stored(), language)


def remarks_of(check: Json, language: str) -> Remarks:
    """Findings that are not met, open or still to do, and each limit once, those of one source together."""
    remarks = (remark_of(finding, language) for finding in check["findings"])
    return Remarks(
        [remark for remark in remarks if remark.state in SHOWN and not is_set_at_signing(remark)],
        sorted(dict.fromkeys(limit_of(limit, language) for limit in limits_once(check["limits"])), key=_source),
    )


def _source(limit: LimitInForce) -> str:
    return str(limit.set_by)


def is_set_at_signing(remark: Remark) -> bool:
    """Whether nobody can see to it on a draft: signing itself does it."""
    return remark.state == TO_DO and remark.about[:1] in SET_AT_SIGNING


def state_of(finding: Json) -> str:
    """The outcome; but what is only not due yet is still to do, not 'doesn't apply'."""
    return TO_DO if finding["wording"] == TO_DO else str(finding["outcome"])


def remark_of(finding: Json, language: str) -> Remark:
    state = state_of(finding)
    message = finding["blanks"]["what"] if state == TO_DO else finding["message"]
    return Remark(
        about=tuple(finding["about"]),
        state=state,
        state_words=state_words(state),
        words=message[language],
        sources=(
            Source(
                cite=cite_in(finding["cite"], language),
                asks=_asks(finding, str(message[language]), language),
                doubt=finding["doubt"][language] if finding["doubt"] else "",
                hangs_on=tuple(answer[language] for answer in finding.get("hangs_on", ())),
                advised=finding["level"] != "required",
            ),
        ),
    )


def _asks(finding: Json, sentence: str, language: str) -> str:
    """What the rule asks for, where the sentence does not say it: `Coverage: at most 1.2 gal/100 ft²`."""
    value = finding["bound"]
    if value is None or isinstance(value, str):
        return ""
    ends = [value] if "unit" in value else value.values()
    if all(said(end, language) in sentence for end in ends):
        return ""
    return f"{finding['title'][language]}: {said(value, language)}"


def limit_of(limit: Json, language: str) -> LimitInForce:
    return LimitInForce(
        quantity=limit["quantity"],
        of=quantity_words(limit["quantity"]).say(language),
        bound=bound_words(limit["min"], limit["max"], language),
        set_by=set_by(limit, language),
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
            return stored_size(value).say(language)
        return bound_words(value.get("min"), value.get("max"), language)
    return str(value)
