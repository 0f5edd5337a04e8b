"""Findings and limits as tables: what is on record beside what the rule asks, with the source."""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from compliance.limit_words import is_sure, quantity_words, set_by
from compliance.papers.parts import grid
from compliance.papers.speech import Speech, joined
from compliance.said_in import cite_in, text_in
from compliance.stored_sizes import stored_size
from shared.paper import Column, Note, Row, Section

Finding = Mapping[str, Any]

SIGNS = ("not_met", "cant_tell", "not_met_from_memory", "met", "not_applicable")
"""The kinds of result in the order in which a reader needs them."""


_IN_BRIEF = ("met", "not_applicable")


def sign_of(finding: Finding) -> str:
    """The outcome, but for one: a rule whose text rests on memory is never shown as a breach."""
    outcome = str(finding["outcome"])
    return "not_met_from_memory" if outcome == "not_met" and rests_on_memory(finding) else outcome


def sign_of_all(check: Mapping[str, Any]) -> str:
    """The outcome of the whole; no breach where only rules from memory are not met."""
    outcome = str(check["outcome"])
    judged = [one for one in check.get("findings") or () if one["level"] == "required"]
    if outcome == "not_met" and "not_met" not in map(sign_of, judged):
        return "not_met_from_memory"
    return outcome


def rests_on_memory(finding: Finding) -> bool:
    """Whether nobody has read the text that the rule rests on."""
    return finding.get("text") == "memory"


def finding_sections(
    findings: Sequence[Finding], answers: Sequence[Mapping[str, Any]], speech: Speech
) -> Iterable[Section]:
    """One section for each kind of result that occurs, told apart by words and shape."""
    for sign in SIGNS:
        chosen = [finding for finding in findings if sign_of(finding) == sign]
        if not chosen:
            continue
        title = speech.word("count", sign=speech.word(f"sign/{sign}"), count=str(len(chosen)))
        rows = [_row(finding, answers, speech) for finding in chosen]
        yield Section(title, (Note(speech.word(f"about/{sign}")), grid(speech, _COLUMNS, rows, whole=True)))


_COLUMNS = (
    Column("finding", 9),
    Column("observed", 6, numeric=True),
    Column("bound", 5, numeric=True),
    Column("level", 5),
    Column("cite", 9),
)


def _row(finding: Finding, answers: Sequence[Mapping[str, Any]], speech: Speech) -> Row:
    language = speech.language
    title = (finding.get("title") or {}).get(language) or finding["rule"]
    cells = (
        title,
        _said(text_in(finding, "observed", language), speech) or "–",
        _bound_said(finding, speech) or "–",
        speech.word(f"level/{finding['level']}"),
        cite_in(finding["cite"], language),
    )
    sentence, detail = finding["message"][language], _detail(finding, answers, speech)
    if sign_of(finding) in _IN_BRIEF:
        return Row(cells, joined((sentence, detail), " · "))
    return Row(cells, detail, sentence)


PRACTICE = "common practice, no source"
"""How a rule cites what the trade does and no authority wrote; it is never shown as law."""


def _layer(finding: Finding, speech: Speech) -> str:
    """Who sets the rule: law, label, firm policy, or good practice that no text demands."""
    layer = "practice" if finding.get("cite") == PRACTICE else finding.get("layer")
    wording_id = f"layer/{layer}"
    return speech.word(wording_id) if wording_id in speech.catalogue else str(finding.get("layer") or "")


_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d")
_READ = {"memory": "from-memory", "restated": "restated"}


def _detail(finding: Finding, answers: Sequence[Mapping[str, Any]], speech: Speech) -> str:
    """Whatever qualifies the stored sentence: rule, days, how its text is known, doubt, the
    firm's answer to an open question, the signer's reason."""
    language = speech.language
    doubt = (finding.get("doubt") or {}).get(language)
    reasons = [one["reason"] for one in answers if _answers(one, finding)]
    due, keep = finding.get("due"), finding.get("keep_until")
    practice = finding.get("cite") == PRACTICE
    return joined(
        (
            finding["rule"],
            _layer(finding, speech),
            speech.word("due", when=_when(due, speech)) if due else "",
            speech.word("keep-until", when=_when(keep, speech)) if keep else "",
            speech.word(_READ[finding["text"]]) if finding.get("text") in _READ and not practice else "",
            speech.word("doubt", doubt=doubt) if doubt else "",
            *(answer[language] for answer in finding.get("hangs_on") or ()),
            *(speech.word("answer", reason=reason) for reason in reasons),
        ),
        " · ",
    )


def _answers(answer: Mapping[str, Any], finding: Finding) -> bool:
    about = answer.get("about")
    return answer.get("rule") == finding["rule"] and about in (None, [], finding.get("about"))


def _when(moment: str, speech: Speech) -> str:
    return speech.moment(moment) if "T" in moment else speech.long_date(moment)


def _bound_said(finding: Finding, speech: Speech) -> str:
    """What the rule asks; a moment is the last one at which it is kept."""
    bound = text_in(finding, "bound", speech.language)
    said = _said(bound, speech)
    return speech.word("at-latest", max=said) if isinstance(bound, str) and _TIME.match(bound) else said


def _said(value: object, speech: Speech) -> str:
    """A stored value: nothing, text, a quantity, or bounds."""
    if isinstance(value, str) and _TIME.match(value):
        return speech.moment(value)
    if not isinstance(value, Mapping):
        return str(value or "")
    if "unit" in value:
        return stored_size(value).say(speech.language)
    least, most = _said(value.get("min"), speech), _said(value.get("max"), speech)
    if least and most:
        return speech.word("between", min=least, max=most)
    return speech.word("at-least", min=least) if least else speech.word("at-most", max=most) if most else ""


_LIMIT_COLUMNS = (
    Column("limit-of", 5),
    Column("limit-for", 5),
    Column("limit", 5, numeric=True),
    Column("set-by", 9),
)


def limits(in_force: Sequence[Mapping[str, Any]], speech: Speech) -> Section:
    """The strictest limit for each quantity, with the layer that sets it."""
    rows = []
    for limit in in_force:
        layer = _layer(limit["set_by"], speech) if is_sure(limit) else ""
        cells = (
            quantity_words(limit["quantity"]).say(speech.language),
            limit.get("for") or "",
            _said({"min": limit.get("min"), "max": limit.get("max")}, speech),
            joined((layer, set_by(limit, speech.language)), ": "),
        )
        rows.append(Row(cells))
    return Section(speech.word("limits"), (grid(speech, _LIMIT_COLUMNS, rows),))
