"""By when a request for records is to be answered, as a reminder of a pack states it. Pure."""

from dataclasses import dataclass
from datetime import datetime

from compliance.rulebook.durations import Duration, OnSite, read_duration
from compliance.rulebook.reading import Params, as_text, each, one_of

ASKERS = ("regulator", "medical", "worker", "customer", "court", "insurer", "other")
"""Who may ask for records; `medical` treats a person now, a `worker` may be an employee's representative."""
AT_ONCE = "at once"


@dataclass(frozen=True)
class AnswerTime:
    """The answer to who is `by`. `at_once`: what can be told is told at once; `within` is for the copy, None
    where that is due at once, too."""

    by: tuple[str, ...]
    at_once: bool
    within: Duration | None

    def due(self, received: datetime, on_site: OnSite) -> datetime:
        """By when the copy is with who asked: hours pass as they do in UTC, days run to the end of the last."""
        return self.within.after(received, on_site) if self.within else received


def read_answer_time(part: Params) -> AnswerTime:
    """`{by: [medical], first: at once, within: 24 hour}`; `within` may be `at once`, or `5 business day` with
    `holidays` beside it. Raises RuleError."""
    by = part.value("by", each(one_of(ASKERS)))
    first = part.maybe("first", one_of((AT_ONCE,)))
    within = part.value("within", lambda raw: None if as_text(raw) == AT_ONCE else read_duration(part, raw))
    part.done()
    return AnswerTime(by, first is not None or within is None, within)
