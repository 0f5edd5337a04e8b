"""Send a notice by e-mail, and tell from where it failed whether it may have gone out."""

import smtplib
from contextlib import suppress
from email.utils import formataddr, parseaddr
from typing import Any

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.mail import EmailMessage, get_connection
from django.core.validators import validate_email

from records.models import Notice
from records.outbox.answers import Answer, Came
from records.outbox.folded import on_one_line
from records.outbox.page_address import link_lines

REFUSED_FROM = 500
"""Replies from this number on are final (RFC 5321, section 4.2.1)."""
BODY_FOLLOWS = 354


def mail_of(notice: Notice) -> EmailMessage:
    """Plain text in which the link to the person's own page stands last; no name can add a header."""
    sender = parseaddr(settings.DEFAULT_FROM_EMAIL)[1]
    mail = EmailMessage(
        subject=on_one_line(notice.subject),
        body=f"{notice.text}\n\n{link_lines(notice)}\n",
        from_email=formataddr((on_one_line(notice.firm.name), sender)),
        to=[notice.email],
        reply_to=[notice.firm.email or notice.made_by.email],
        headers={"Message-ID": message_id(notice), "Auto-Submitted": "auto-generated"},
    )
    for file in notice.files.select_related("kept"):
        mail.attach(on_one_line(file.name), bytes(file.kept.content), file.media_type)
    return mail


def message_id(notice: Notice) -> str:
    """The same each time that it is tried, and known to nobody but who gets the mail."""
    domain = parseaddr(settings.DEFAULT_FROM_EMAIL)[1].rpartition("@")[2]
    return f"<{notice.mail_key}@{domain}>"


def send_by_mail(notice: Notice) -> Answer:
    """Try once. What a mail server said, or that there was none, tells whether it may have the notice. Where
    mails are only shown or kept as files, nobody has it."""
    try:
        validate_email(notice.email)
    except ValidationError as error:
        return Answer(Came.REFUSED, str(error.message))
    mail, connection = mail_of(notice), get_connection()
    if not settings.MAIL_GOES_OUT:
        connection.send_messages([mail])
        return Answer(Came.NOBODY)
    try:
        connection.open()
    except (OSError, smtplib.SMTPException) as error:
        return Answer(Came.LATER, _said(error))
    stage = Stage(getattr(connection, "connection", None))
    try:
        taken = connection.send_messages([mail])
    except smtplib.SMTPException as error:
        return stage.answer_to(error)
    except OSError as error:
        return Answer(Came.UNSURE if stage.may_have_it else Came.LATER, _said(error))
    except ValueError as error:
        return Answer(Came.UNSURE if stage.may_have_it else Came.REFUSED, _said(error))
    finally:
        with suppress(OSError, smtplib.SMTPException):
            connection.close()
    return Answer(Came.ACCEPTED) if taken else Answer(Came.UNSURE, "0")


class Stage:
    """How far a sending has come. A backend that is no SMTP client can't be watched: it may have it at once."""

    def __init__(self, smtp: Any) -> None:
        self.watched = isinstance(smtp, smtplib.SMTP)
        self.body_follows = False
        if self.watched:
            self._reply = smtp.getreply
            smtp.getreply = self._note_reply

    @property
    def may_have_it(self) -> bool:
        return self.body_follows or not self.watched

    def answer_to(self, error: smtplib.SMTPException) -> Answer:
        """A reply settles it at any stage; a line that broke does so before the body alone."""
        code = _code(error)
        if code is None:
            return Answer(Came.UNSURE if self.may_have_it else Came.LATER, _said(error))
        return Answer(Came.REFUSED if code >= REFUSED_FROM else Came.LATER, _said(error))

    def _note_reply(self) -> tuple[int, bytes]:
        code, words = self._reply()
        self.body_follows |= code == BODY_FOLLOWS
        return code, words


def _code(error: smtplib.SMTPException) -> int | None:
    if isinstance(error, smtplib.SMTPRecipientsRefused):
        return next(iter(error.recipients.values()))[0]
    if isinstance(error, smtplib.SMTPResponseException) and error.smtp_code > 0:
        return error.smtp_code
    return None


def _said(error: Exception) -> str:
    """The other side's words, as text."""
    code, words = None, str(error)
    if isinstance(error, smtplib.SMTPRecipientsRefused):
        code, said = next(iter(error.recipients.values()))
        words = said.decode(errors="replace")
    elif isinstance(error, smtplib.SMTPResponseException):
        code, said = error.smtp_code, error.smtp_error
        words = said.decode(errors="replace") if isinstance(said, bytes) else str(said)
    return f"{code} {words}" if code else words or type(error).__name__
