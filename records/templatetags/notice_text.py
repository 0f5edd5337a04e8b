"""The text of a notice on a page: in paragraphs, and what it quotes of an English label marked as English."""

from django import template
from django.template.defaultfilters import linebreaks_filter
from django.utils.html import format_html, format_html_join

from records.quoted_labels import english_quotes

register = template.Library()


@register.filter
def notice_text(text: str) -> str:
    parts, done = [], 0
    for start, end in english_quotes(text):
        parts += [text[done:start], format_html('<span lang="en">{}</span>', text[start:end])]
        done = end
    return linebreaks_filter(format_html_join("", "{}", [(part,) for part in [*parts, text[done:]]]))
