"""What the page on who is told says in sentences."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from compliance.notices.duty import Signs
from compliance.notices.tellings import Telling, in_utc
from compliance.notices.timeline import Event, Plan
from compliance.pages.doubts import entered_first
from compliance.pages.people_told import recipient_word
from records.document.words import WORD_LISTS
from records.moments_said import said_moment

STATES = {
    "in-time": gettext_lazy("told in time"),
    "not-told": gettext_lazy("not told yet"),
    "wrong": gettext_lazy("told, but this notice does not serve"),
    "unknown": gettext_lazy("can't tell whether they were told in time"),
    "if-asked": gettext_lazy("only if they ask"),
}


def state_word(telling: Telling) -> str | Promise:
    """How far it is done; after the work where the law wants it then."""
    if telling.state == "not-told" and all(one.duty.when == "after" for one in telling.asks):
        return _("to be told after the work")
    return STATES[telling.state]


@dataclass(frozen=True)
class Said:
    """A plan in sentences, in one language and on the clock of one zone."""

    plan: Plan
    zone: str
    language: str

    def answer(self, now: datetime) -> str:
        """Who must be told by when, and the earliest lawful start."""
        return " ".join([self._must(), *self._others(), *self._earliest(now)])

    def open_rules(self) -> str:
        """That rules can't be told yet, so that the answer is no more than it is."""
        count = self.plan.untold
        if not count:
            return ""
        return ngettext(
            "%(n)d rule on notices can't be told yet: more people may have to be told.",
            "%(n)d rules on notices can't be told yet: more people may have to be told.",
            count,
        ) % {"n": count}

    def when(self, moment: datetime | None) -> str:
        return said_moment(moment, self.zone) if moment else _("no time is planned yet")

    def event(self, event: Event) -> str:
        """What is due at a point of the timeline, or ends there."""
        if event.kind == "tell":
            return _("Last moment to tell: %(whom)s") % {"whom": whom(event.tellings)}
        if event.kind == "stale":
            return _("The notices that were sent are good up to here: %(whom)s") % {
                "whom": whom(event.tellings)
            }
        if event.kind == "start":
            return _("Planned start")
        if event.signs:
            return self._signs(event)
        return self._later(event)

    def _signs(self, event: Event) -> str:
        signs = event.signs
        if signs is None:
            return ""
        lead = signs.lead.say(self.language)
        if event.kind == "signs-up":
            asked = (signs.size, signs.where, _spaced(signs, self.language))
            how = "; ".join(one if isinstance(one, str) else one.say(self.language) for one in asked if one)
            words = _("Signs stand (%(lead)s), at least %(n)d. %(how)s. %(cite)s")
            words = words if how else _("Signs stand (%(lead)s), at least %(n)d. %(cite)s")
            return words % {"lead": lead, "n": signs.least, "how": how, "cite": signs.cite}
        if event.at is None:
            return _("Signs come down: the pack does not say when. %(cite)s") % {"cite": signs.cite}
        return _("Signs stay at least until here, or longer if the work ends late. %(cite)s") % {
            "cite": signs.cite
        }

    def _later(self, event: Event) -> str:
        later = event.later
        if later is None:
            return ""
        kind = WORD_LISTS["follow_up_kind"].get(later.what)
        to = later.to.say(self.language) if later.to else ""
        what = kind.say(self.language) if kind else _("report to %(to)s") % {"to": to}
        return _("Due: %(what)s. %(title)s. %(cite)s") % {
            "what": what,
            "title": later.title.say(self.language),
            "cite": later.cite,
        }

    def _must(self) -> str:
        must = [one for one in self.plan.tellings if one.must]
        if not must:
            return _("Nobody must be told before the start, as far as it can be told.")
        moments = {in_utc(one.latest) for one in must if one.latest}
        if not moments:
            return ngettext(
                "%(n)d person must be told; no time is planned yet.",
                "%(n)d people must be told; no time is planned yet.",
                len(must),
            ) % {"n": len(must)}
        said = {"n": len(must), "when": self.when(min(moments))}
        if len(moments) > 1:
            return _("%(n)d people must be told, the first by %(when)s.") % said
        words = ngettext(
            "%(n)d person must be told by %(when)s.", "%(n)d people must be told by %(when)s.", len(must)
        )
        return words % said

    def _others(self) -> list[str]:
        counts = {
            "perhaps": sum(one.perhaps and not one.not_stated for one in self.plan.tellings),
            "not_stated": sum(one.perhaps and bool(one.not_stated) for one in self.plan.tellings),
            "told": sum(one.must and one.state == "in-time" for one in self.plan.tellings),
        }
        said = []
        if counts["told"]:
            said.append(_("Told in time: %(n)d.") % {"n": counts["told"]})
        if counts["perhaps"]:
            said.append(_("Perhaps, which no record can show: %(n)d more.") % {"n": counts["perhaps"]})
        if counts["not_stated"]:
            words = ngettext(
                "Of %(n)d more it can't be told before this is entered: %(what)s.",
                "Of %(n)d more it can't be told before this is entered: %(what)s.",
                counts["not_stated"],
            )
            said.append(words % {"n": counts["not_stated"], "what": entered_first(self.plan, self.language)})
        return said

    def _earliest(self, now: datetime) -> list[str]:
        if not any(one.must or one.perhaps for one in self.plan.tellings):
            return []
        if as_sent := self.plan.earliest(now, as_sent=True):
            words, at = _("By what was sent, the earliest lawful start is %(when)s."), as_sent
        else:
            words = _("If those who are missing are told now, the earliest lawful start is %(when)s.")
            at = self.plan.earliest(now)
        return [words % {"when": self.when(at and _next_minute(at))}]


def _spaced(signs: Signs, language: str) -> str:
    """How far apart signs may stand."""
    return _("at most %(length)s apart") % {"length": signs.spacing.say(language)} if signs.spacing else ""


def _next_minute(at: datetime) -> datetime:
    """Pages show no seconds, and an earliest moment must not be shown as an earlier one."""
    past = timedelta(seconds=at.second, microseconds=at.microsecond)
    return in_utc(at) + (timedelta(minutes=1) - past if past else past)


def whom(tellings: tuple[Telling, ...]) -> str:
    """Kinds of people with how many of each: `customer; neighbour (3)`."""
    counted: dict[str, int] = {}
    for one in tellings:
        word = recipient_word(one)
        counted[word] = counted.get(word, 0) + 1
    return "; ".join(f"{word} ({count})" if count > 1 else word for word, count in counted.items())
