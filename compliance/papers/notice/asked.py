"""What several duties together ask of one notice."""

from collections.abc import Mapping, Sequence

from compliance.notices.duty import Duty
from compliance.papers.notice.terms import Terms
from shared.wording import LANGUAGES


def terms_of(duties: Sequence[Duty], language: str, own_words: Mapping[str, str] | None = None) -> Terms:
    """One notice that serves all duties to one reader: everything that any of them wants to be said.

    It is written in every language that one of them asks for, else in that of the reader.
    """
    asked = {one for duty in duties for one in duty.languages}
    return Terms(
        contents=tuple(one for duty in duties for one in duty.contents),
        languages=tuple(one for one in LANGUAGES if one in asked) or (language,),
        dates=max((duty.alternates for duty in duties if duty.all_alternates), default=0),
        own_words=dict(own_words or {}),
    )
