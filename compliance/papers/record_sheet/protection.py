"""Runoff and drift: each thing to be protected with the steps taken for it, then the other steps."""

from collections.abc import Sequence

from compliance.papers.parts import grid, listed
from compliance.papers.record_sheet.evidence import evidence_said
from compliance.papers.speech import Speech, joined
from records.document.types import Feature, ProtectionStep, TreatmentDocument
from shared.paper import Block, Column, Note, Row, Section


def protection(document: TreatmentDocument, speech: Speech) -> Section:
    """Features with their steps, and steps for no feature in particular; notes and evidence below each."""
    features, steps = document.site and document.site.features, document.protection or []
    told: set[int] = set()
    rows = [_feature_row(feature, steps, told, speech) for feature in features or []]
    others = [_other_step(step, speech) for number, step in enumerate(steps) if number not in told]
    blocks: list[Block] = [grid(speech, _FEATURE_COLUMNS, rows)] if rows else []
    if not rows:
        blocks.append(Note(listed(speech, features, "", section="site"), speech.word("place/feature")))
    if others:
        blocks.append(Note(joined(others, "; "), speech.word("care/other-steps" if rows else "care/step")))
    if not steps:
        taken = listed(speech, document.protection, "", "care/no-steps", "protection")
        blocks.append(Note(taken, speech.word("care/step")))
    return Section(speech.word("care/protection"), tuple(blocks))


_FEATURE_COLUMNS = (
    Column("place/feature", 10),
    Column("place/distance", 4, numeric=True),
    Column("place/bearing", 7),
    Column("place/discharges", 5),
    Column("place/protected-by", 14),
)


def _feature_row(feature: Feature, steps: Sequence[ProtectionStep], told: set[int], speech: Speech) -> Row:
    """One feature. A step's note and evidence stand where the step is named first; `told` remembers."""
    taken = [
        (number, step)
        for number, step in enumerate(steps)
        if feature.name and feature.name in (step.features or ())
    ]
    details = [_step_detail(step, speech) for number, step in taken if number not in told]
    told.update(number for number, _step in taken)
    cells = (
        _feature_name(feature, speech),
        speech.quantity(feature.distance),
        speech.direction(feature.bearing),
        speech.listed("discharge", feature.discharges_to),
        joined((_step_said(step, speech) for _number, step in taken), "; "),
    )
    return Row(cells, joined(details, " · "))


def _feature_name(feature: Feature, speech: Speech) -> str:
    """The name, and the kind in brackets where the name does not say it."""
    kind = speech.listed("feature_kind", feature.kind)
    if not feature.name:
        return kind
    return feature.name if not kind or kind in feature.name else f"{feature.name} ({kind})"


def _step_said(step: ProtectionStep, speech: Speech) -> str:
    return joined((speech.listed("step", step.step), speech.time(step.at), step.by))


def _other_step(step: ProtectionStep, speech: Speech) -> str:
    """A step for no feature of the site, on one line."""
    missing = speech.word("head/not-recorded")
    what = joined((speech.listed("step", step.step) or missing, joined(step.features or ())), ": ")
    said = joined((what, speech.time(step.at) or missing, step.by or missing))
    detail = _step_detail(step, speech)
    return f"{said} ({detail})" if detail else said


def _step_detail(step: ProtectionStep, speech: Speech) -> str:
    return joined((step.note, evidence_said(step.evidence, speech)), " · ")
