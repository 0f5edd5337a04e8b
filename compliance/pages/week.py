"""The notices of the next two weeks: what is late, what is next; several treatments prepared at once."""

from itertools import groupby
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from compliance.pages.means_counted import said_count
from compliance.papers.notice import email
from compliance.services.telling_many import ByDefault
from compliance.services.week import Coming, coming
from records.document.words import WORD_LISTS
from records.models import Treatment
from records.moments_said import said_moment
from records.outbox.by_hand import open_tasks
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from shared.times import local_day

MOST_TASKS = 20
MOST_AT_ONCE = 50


class WeekOfNotices(FirmPage):
    permission = "records.see_to_notices"
    template_name = "compliance/week_of_notices.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self._week()

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        chosen = [ByDefault(treatment) for treatment in self._ticked()]
        if not chosen:
            messages.error(request, _("Tick at least one treatment."))
            return redirect("week_of_notices")
        if request.POST.get("do") == "send":
            count = sum(one.send(request.user) for one in chosen)
            said = ngettext("%(n)d notice is on its way.", "%(n)d notices are on their way.", count)
            messages.success(request, said % {"n": count})
            return redirect("week_of_notices")
        return self._look(chosen)

    def _ticked(self) -> list[Treatment]:
        """The firm's treatments of the ticked ids, so many as are looked at in one go."""
        ids = [each for text in self.request.POST.getlist("treatment") if (each := _uuid(text))]
        rows = Treatment.objects.for_firm(self.firm).filter(pk__in=ids).select_related("firm", "site__customer")
        found = [one for one in rows.order_by("planned_at") if one.state == Treatment.State.DRAFT or one.is_off]
        return found[:MOST_AT_ONCE]

    def _week(self) -> HttpResponse:
        found = list(coming(self.firm))
        late = [one for one in found if one.is_late or one.changed]
        rest = [one for one in found if one not in late]
        days = groupby(rest, key=lambda one: local_day(one.treatment.planned_at, _zone(one.treatment)))
        tasks = open_tasks(self.firm)
        return self.page(
            late=[self._shown(one) for one in late],
            days=[(day, [self._shown(one) for one in those]) for day, those in days],
            notice_tasks=tasks[:MOST_TASKS],
            more_notice_tasks=max(0, tasks.count() - MOST_TASKS),
        )

    def _shown(self, one: Coming) -> dict[str, Any]:
        return {
            "treatment": one.treatment,
            "zone": _zone(one.treatment),
            "sentences": list(self._sentences(one)),
            "is_late": one.is_late or bool(one.changed),
            "can_prepare": bool(one.untold or one.changed),
        }

    def _sentences(self, one: Coming) -> list[str]:
        said = [*_changed(one), *_untold(one)]
        if one.waiting:
            words = ngettext(
                "%(n)d notice has not gone out yet.", "%(n)d notices have not gone out yet.", one.waiting
            )
            said.append(words % {"n": one.waiting})
        if one.treatment.is_off:
            return said
        missing = [
            duty.why.say(self.language) for duty in one.plan.duties.notices if duty.applies is None and duty.why
        ]
        if missing:
            said.append(_("Can't be told yet: %(why)s") % {"why": " ".join(dict.fromkeys(missing))})
        if not said:
            must = any(each.must or each.perhaps for each in one.plan.tellings)
            said.append(_("All are told.") if must else _("Nobody must be told."))
        return said

    def _look(self, chosen: list[ByDefault]) -> HttpResponse:
        self.template_name = "compliance/look_at_many.html"
        for one in chosen:
            note_seen(self.request, self.firm, one.treatment)
        looked = [self._looked(one) for one in chosen]
        means = [notice["word"] for each in looked for notice in each["notices"]]
        return self.page(treatments=looked, what=said_count(means), any=bool(means))

    def _looked(self, one: ByDefault) -> dict[str, Any]:
        words = WORD_LISTS["means"]
        notices = [
            {
                "name": person.contact.name or WORD_LISTS["recipient"][person.contact.to].say(self.language),
                "word": choice.means,
                "means": words[choice.means].say(self.language),
                "written": email(content),
                "quotes": [line.label for line in content.quotes],
                "open": [line.label for line in content.open_lines],
            }
            for person, choice, content in one.contents()
        ]
        zone = _zone(one.treatment)
        return {"treatment": one.treatment, "notices": notices, "of": one, "zone": zone}


def _changed(one: Coming) -> list[str]:
    count = len(one.changed)
    if not count:
        return []
    if one.treatment.is_off:
        words = ngettext(
            "Off: %(n)d person who was told of it is to be told.",
            "Off: %(n)d people who were told of it are to be told.",
            count,
        )
    else:
        words = ngettext(
            "%(n)d person was told of something else than is planned.",
            "%(n)d people were told of something else than is planned.",
            count,
        )
    return [words % {"n": count}]


def _untold(one: Coming) -> list[str]:
    """`3 people untold, latest today 09:00.`"""
    count = len(one.untold)
    if not count:
        return []
    if one.latest is None:
        return [ngettext("%(n)d person untold.", "%(n)d people untold.", count) % {"n": count}]
    said = {"n": count, "when": said_moment(one.latest, _zone(one.treatment))}
    words = ngettext("%(n)d person untold, latest %(when)s.", "%(n)d people untold, latest %(when)s.", count)
    return [words % said, *([_("That moment has passed.")] if one.is_late else [])]


def _zone(treatment: Treatment) -> str:
    return treatment.site.time_zone or treatment.firm.time_zone


def _uuid(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None
