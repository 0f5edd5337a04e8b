"""Where one stands on the way from the arrival to the signature."""

from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext as _

from records.forms.sections import SECTIONS
from records.forms.table import Section, Words
from records.models import Treatment


@dataclass(frozen=True)
class Stop:
    """A page that comes before or after, with its name in a word or two."""

    title: Words
    address: str


@dataclass(frozen=True)
class Step:
    """The page's place among all steps, the last of which is the signature; none of them is number 0."""

    number: int
    before: Stop
    following: Stop | None

    @property
    def of(self) -> int:
        return len(SECTIONS) + 1


def step_of(section: Section, treatment: Treatment, may_sign: bool) -> Step:
    """Before the first screen and, for who may not sign, after the last one stands the treatment's own page."""
    if section not in SECTIONS:
        return Step(0, _list(treatment), _screen(section, treatment))
    at = SECTIONS.index(section)
    before = _screen(SECTIONS[at - 1], treatment) if at else _list(treatment)
    if at + 1 < len(SECTIONS):
        return Step(at + 1, before, _screen(SECTIONS[at + 1], treatment))
    return Step(at + 1, before, signature_of(treatment, may_sign))


def step_of_signature(treatment: Treatment) -> Step:
    return Step(len(SECTIONS) + 1, _screen(SECTIONS[-1], treatment), None)


def _screen(section: Section, treatment: Treatment) -> Stop:
    return Stop(section.title, reverse("section", kwargs={"uuid": treatment.pk, "section": section.slug}))


def _list(treatment: Treatment) -> Stop:
    return Stop(_("List"), reverse("treatment", kwargs={"uuid": treatment.pk}))


def signature_of(treatment: Treatment, may_sign: bool) -> Stop:
    """Where it is signed; for who may not sign the treatment's own page."""
    if not may_sign:
        return _list(treatment)
    return Stop(_("Sign"), reverse("sign", kwargs={"uuid": treatment.pk}))
