"""What a phone keeps so that the pages of the coming days open without a signal."""

import json
from collections.abc import Iterator
from datetime import date, timedelta
from hashlib import sha256
from zoneinfo import ZoneInfo

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext as _

from records.forms.kept_choices import DAYS_AHEAD, version_of
from records.forms.sections import ASIDE, SECTIONS
from records.models import Treatment
from records.pages.firm_page import FirmPage
from records.pages.roadside import holders, of_the_day
from records.register_search import treatments_of
from records.tanks_at_hand import version_of_tanks
from shared import clock

DAYS_BACK = timedelta(days=7)
MOST = 30
CARD_STATES = (Treatment.State.SIGNED, Treatment.State.CORRECTED)
SHELL = (
    "project/base.css",
    "project/forms.css",
    "project/favicon.svg",
    "records/wind.svg",
    "records/form.css",
    "records/versions.css",
    "records/cards.css",
    "records/photos.css",
    "records/clock_here.js",
    "records/keeping.js",
    "records/half_typed.js",
    "records/on_disk.js",
    "records/shelf.js",
    "records/sealed_here.js",
    "records/new_items.js",
    "records/choosing.js",
    "records/drawing.js",
    "records/container_code.js",
    "records/scanning.js",
    "records/sent_here.js",
    "records/drafts.js",
    "records/actions.js",
    "records/offers_here.js",
    "records/waiting.js",
    "records/left_here.js",
    "records/signing_out.js",
    "records/photo_shelf.js",
    "records/photos.js",
    "records/canonical.js",
    "records/reading.js",
    "records/placing.js",
    "records/phone_document.js",
    "records/mending.js",
    "records/device_wrap.js",
    "records/device_key.js",
    "records/reasons_before.js",
    "records/reasons_kept.js",
    "records/answers_here.js",
    "records/sealing.js",
    "records/seals_away.js",
    "vendor/htmx-2.0.11.min.js",
    *settings.KEPT_FILES,
)
SIGNS_OUT = ("account", "account_logout")
COLOUR = "#0a5c46"


def service_worker(request: HttpRequest) -> HttpResponse:
    """The script that stands between the pages and the network; it changes when a file of the shell does."""
    files = [*(static(name) for name in SHELL), reverse("no_answer"), reverse("not_kept")]
    context = {"files": json.dumps(files), "version": _version_of_shell()}
    return render(request, "records/service-worker.js", context, content_type="text/javascript")


def manifest(request: HttpRequest) -> JsonResponse:
    """What a phone shows where the log is installed: its name, icon and colours (W3C Web App Manifest)."""
    icons = [
        {"src": static(f"project/icon-{size}.png"), "sizes": f"{size}x{size}", "type": "image/png"}
        for size in (192, 512)
    ]
    about = {
        "name": _("Treatment log"),
        "short_name": _("Treatments"),
        "start_url": reverse("home"),
        "scope": reverse("home"),
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": COLOUR,
        "icons": [{**icon, "purpose": purpose} for icon in icons for purpose in ("any", "maskable")],
    }
    return JsonResponse(about, content_type="application/manifest+json")


def not_kept(request: HttpRequest) -> HttpResponse:
    """What is shown without a signal for a page that is not on the phone."""
    return render(request, "records/not_kept.html")


def no_answer(request: HttpRequest) -> HttpResponse:
    """What is shown where something was sent, as a signature is, and no answer came."""
    return render(request, "records/no_answer.html")


class ToKeep(FirmPage):
    """The addresses that this member's phone keeps, the soonest first, each with its version."""

    permission = "records.edit_draft"

    def get(self, request: HttpRequest, **_kwargs: object) -> JsonResponse:
        today = clock.now().astimezone(ZoneInfo(self.firm.time_zone)).date()
        shell = f"{_version_of_shell()}.{self.language}.{today}"
        tanks = f".{_digest(version_of_tanks(self.firm, today))}"
        versions = {
            each: f"{shell}.{each.state}.{each.revision}{tanks if each.day == today else ''}"
            for each in self._treatments(today)
        }
        pages = [{"address": reverse("home"), "version": _digest("\n".join(versions.values()))}]
        pages.append({"address": reverse("roadside"), "version": self._version_of_roadside(shell, today)})
        person = self._version_of_person(shell)
        pages += [{"address": reverse(name), "version": person} for name in (*SIGNS_OUT, "incident_now")]
        if versions:
            rows = version_of(self.firm, today)
            pages.append({"address": reverse("choices"), "version": _digest(f"{shell}.{rows}")})
        for treatment, version in versions.items():
            pages += [{"address": address, "version": version} for address in self._pages_of(treatment)]
        for treatment in self._signed_lately(today):
            version = f"{shell}.{treatment.state}.{treatment.revision}"
            pages.append({"address": reverse("medical", kwargs={"uuid": treatment.pk}), "version": version})
        return JsonResponse({"pages": pages, "now": clock.now().isoformat()})

    def _treatments(self, today: date) -> list[Treatment]:
        """Open treatments around today: own ones first, then by how near they are."""
        states = [Treatment.State.DRAFT, Treatment.State.CORRECTING]
        around = treatments_of(self.firm).filter(
            state__in=states, day__range=(today - DAYS_BACK, today + DAYS_AHEAD)
        )
        person = self.membership.person
        own = person.name if person else ""
        nearest = sorted(around, key=lambda each: (abs(each.day - today), own not in each.applicators))
        return nearest[:MOST]

    def _signed_lately(self, today: date) -> list[Treatment]:
        """Those whose medical card may be asked for after the work, the newest first."""
        signed = treatments_of(self.firm).filter(state__in=CARD_STATES, day__range=(today - DAYS_BACK, today))
        return list(signed[:MOST])

    def _version_of_roadside(self, shell: str, today: date) -> str:
        """Another one when a mix of the day, what is left of one before, or a licence is."""
        tanks = version_of_tanks(self.firm, today)
        states = [f"{each.pk}.{each.state}.{each.revision}" for each in of_the_day(self.membership, today)]
        return _digest("\n".join([shell, *states, json.dumps(holders(self.membership, today)), tanks]))

    def _version_of_person(self, shell: str) -> str:
        """Of the pages on which one signs out; they name the person and the firm."""
        user = self.membership.user
        return _digest("\n".join([shell, user.name, user.email, self.firm.name, self.membership.role]))

    def _pages_of(self, treatment: Treatment) -> Iterator[str]:
        here = {"uuid": treatment.pk}
        yield reverse("treatment", kwargs=here)
        yield reverse("medical", kwargs=here)
        for section in SECTIONS:
            yield reverse("section", kwargs={**here, "section": section.slug})
        if self.may("records.sign_treatment"):
            yield reverse("sign", kwargs=here)
        if treatment.state == Treatment.State.DRAFT:
            yield from (reverse("section", kwargs={**here, "section": each.slug}) for each in ASIDE)
            yield reverse("sheet", kwargs=here)


def _version_of_shell() -> str:
    """Another one as soon as a file of the shell is: its name carries a digest of its content."""
    return _digest("\n".join(static(name) for name in SHELL))


def _digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:12]
