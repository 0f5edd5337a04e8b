"""The photos that a document names, as pages show them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import template
from django.utils.translation import gettext as _

from records.document.evidence import Shown, all_shown
from records.models import Photo, Treatment
from records.pictures import said_by
from records.services.photo_store import original
from records.templatetags.treatments import moment, word

register = template.Library()
Json = Mapping[str, Any]


@dataclass(frozen=True)
class ShownPhoto:
    """One photo as a person sees it; `is_here`: its bytes have come, `said`: what the camera wrote in it."""

    sha256: str
    title: str
    alt: str
    when: str
    is_here: bool
    said: str


@dataclass(frozen=True)
class ShownStep:
    """`name`: what its photos name it by."""

    name: str
    photos: Sequence[ShownPhoto]


@register.simple_tag
def photos_of_step(treatment: Treatment, path: str) -> ShownStep | None:
    """The photos of the protection step or incident at this path of the treatment's document."""
    found = next((each for each in all_shown(treatment.document) if each.path == path), None)
    if found is None:
        return None
    return ShownStep(found.step, _shown(treatment, _title(found), found.evidence))


@register.simple_tag
def photos_of_record(treatment: Treatment, document: Json, follow_ups: Iterable[Any]) -> list[ShownPhoto]:
    """Every photo that a record and its follow-ups name, in their order."""
    own = [_shown(treatment, _title(each), each.evidence) for each in all_shown(document)]
    of_follow_ups = [
        _shown(treatment, word(each.kind, "follow_up_kind"), each.follow_up.get("evidence") or [])
        for each in follow_ups
    ]
    return [photo for photos in (*own, *of_follow_ups) for photo in photos]


def _title(shown: Shown) -> str:
    return word(shown.word, shown.word_list) or _("Incident")


def _shown(treatment: Treatment, title: str, evidence: Sequence[Json]) -> list[ShownPhoto]:
    if not evidence:
        return []
    digests = [each.get("sha256") for each in evidence]
    rows = Photo.objects.for_firm(treatment.firm).filter(treatment=treatment, sha256__in=digests)
    here = {row.sha256: row for row in rows if row.is_whole}
    zone = (treatment.document.get("site") or {}).get("time_zone")
    return [
        _one(treatment, f"{title} {number}", each, here.get(each.get("sha256", "")), zone)
        for number, each in enumerate(evidence, 1)
    ]


def _one(treatment: Treatment, title: str, named: Json, row: Photo | None, zone: str | None) -> ShownPhoto:
    when = moment(named.get("taken_at"), zone)
    alt = _("Photo: %(what)s") % {"what": f"{title}, {when}" if when else title}
    said = _said(row) if row and treatment.firm.reads_pictures else ""
    return ShownPhoto(named.get("sha256", ""), title, alt, when, row is not None, said)


def _said(row: Photo) -> str:
    """What the camera wrote, in one line; '' where it wrote nothing that can be read."""
    said = said_by(original(row))
    day, _space, time = said.taken.partition(" ")
    taken = f"{day.replace(':', '-')} {time}".strip()
    place = f"{said.latitude}, {said.longitude}" if said.latitude else ""
    return "; ".join(part for part in (taken, place) if part)
