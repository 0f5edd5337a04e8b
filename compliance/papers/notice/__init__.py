"""Notices: what they say to whom, as e-mail, letter, door card, calendar entry and words for the telephone."""

from compliance.papers.notice.asked import terms_of
from compliance.papers.notice.calendar_entry import calendar_entry
from compliance.papers.notice.content import NoticeContent, content_of
from compliance.papers.notice.door_card import door_cards
from compliance.papers.notice.letter import letters
from compliance.papers.notice.plain_text import email, phone_script
from compliance.papers.notice.stated import answered, digest_of, marks_of
from compliance.papers.notice.terms import Reader, Terms

__all__ = [
    "NoticeContent",
    "Reader",
    "Terms",
    "answered",
    "calendar_entry",
    "content_of",
    "digest_of",
    "door_cards",
    "email",
    "letters",
    "marks_of",
    "phone_script",
    "terms_of",
]
