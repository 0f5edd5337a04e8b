"""Two people with one form open at once: each writes what they changed, and neither takes the other's away."""

import json
from hashlib import sha256
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

SEEN = "seen"
"""The hidden box with the prints of what the form showed when it was opened."""


CLASH = "written-since"


def seen_in(form: forms.Form) -> str:
    return _as_text(_prints(form))


def seen_again(form: forms.Form, stored: forms.Form, seen: str) -> str:
    """What a form that goes back with faults was opened with.

    Of a box in which two wrote it is what is kept now, since the fault says that.
    """
    kept = _prints(stored)
    return _as_text(_read(seen) | {name: kept[name] for name in kept if form.has_error(name, CLASH)})


def changed_alone(form: forms.Form, stored: forms.Form, seen: str) -> set[str]:
    """The names of the boxes of a valid form that were written in.

    Where somebody else has written in one of them since, the form gets a fault that says what. `stored` is the
    form as it shows what is kept now, `seen` what `seen_in` said when it was opened; without it whatever
    differs counts as written in.
    """
    typed, kept, opened = _prints(form), _prints(stored), _read(seen)
    differ = {name for name in typed if typed[name] != kept[name]}
    mine = {name for name in differ if typed[name] != opened.get(name)}
    for name in mine:
        if opened.get(name, kept[name]) != kept[name]:
            form.add_error(name, ValidationError(_clash(stored, name), code=CLASH))
    return mine


def _clash(stored: forms.Form, name: str) -> str:
    said = _said(stored, name)
    if not said:
        return _("Somebody has emptied this since you opened the page. Keep it again if yours is to stand.")
    blanks = {"said": said}
    return _("Somebody has written here since you opened the page: “%(said)s”. Put both together.") % blanks


def _said(form: forms.Form, name: str) -> str:
    """What a box shows, with a choice by its words."""
    shown = _shown(form, name)
    words = {str(key): str(word) for key, word in getattr(form.fields[name], "choices", ()) if key}
    return ", ".join(words.get(each, each) for each in shown if each)


def _prints(form: forms.Form) -> dict[str, str]:
    return {name: sha256("\0".join(_shown(form, name)).encode()).hexdigest()[:16] for name in form.fields}


def _shown(form: forms.Form, name: str) -> list[str]:
    widget, value = form.fields[name].widget, form[name].value()
    if isinstance(widget, forms.MultiWidget):
        parts = value if isinstance(value, list | tuple) else widget.decompress(value)
        shown: Any = [box.format_value(part) or "" for box, part in zip(widget.widgets, parts, strict=True)]
    else:
        shown = widget.format_value(value)
    each = sorted(map(str, shown)) if isinstance(shown, list | tuple) else [str(shown or "")]
    return ["\n".join(text.splitlines()).strip() for text in each]


def _as_text(prints: dict[str, str]) -> str:
    return json.dumps(prints, separators=(",", ":"))


def _read(seen: str) -> dict[str, str]:
    try:
        found = json.loads(seen)
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}
