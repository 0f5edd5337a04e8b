"""A notice as plain text: an e-mail, and what is said on the telephone."""

from compliance.papers.notice.content import Line, NoticeContent, Side
from compliance.papers.notice.label_words import BLANK


def email(content: NoticeContent) -> tuple[str, str]:
    """Subject and text; all languages in one message, one after another."""
    subject = " / ".join(dict.fromkeys(side.subject for side in content.sides))
    return subject, "\n\n* * *\n\n".join(_written(content, side) for side in content.sides) + "\n"


def phone_script(content: NoticeContent) -> str:
    """What the office reads out, in each language, and that the call is written down."""
    return "\n\n* * *\n\n".join(_spoken(content, side) for side in content.sides) + "\n"


def _written(content: NoticeContent, side: Side) -> str:
    parts = [side.title, side.greeting, side.opening] if content.letterhead else []
    parts += ["\n".join(_line(line) for line in side.lines), *side.statements, *side.closing]
    sender = (content.sender.name, *content.sender.address, content.sender.phone)
    if content.letterhead:
        parts.append("\n".join(text for text in sender if text))
    return "\n\n".join(part for part in parts if part)


def _spoken(content: NoticeContent, side: Side) -> str:
    speech, sender = side.speech, content.sender
    name = content.reader.name
    hello = "script-hello" if name else "script-hello-none"
    parts = [
        speech.word("script").upper(),
        speech.word(hello, firm=sender.name, name=name),
        side.opening if content.called_off or content.replaces else speech.word("script-why"),
        speech.word("script-read"),
        "\n".join(_line(line) for line in side.lines),
        *side.statements,
        speech.word("script-end", phone=sender.phone or BLANK),
        f"({speech.word('script-note')})",
    ]
    return "\n\n".join(part for part in parts if part)


def _line(line: Line) -> str:
    value = line.value or BLANK
    return f"{line.label}: {value}" if "\n" not in value else f"{line.label}:\n  " + value.replace("\n", "\n  ")
