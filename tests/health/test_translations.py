"""Everything that a person reads exists in English and Spanish, with the same blanks."""

import importlib
import pkgutil
import re
import string
from collections.abc import Iterator
from io import BytesIO, StringIO

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract_python
from babel.messages.pofile import read_po
from django.utils.translation.template import templatize

from shared.wording import Wording
from tests.health.committed import ROOMS, ROOT, code, files, name_of

KEYWORDS = {
    "_": None,
    "gettext": None,
    "gettext_lazy": None,
    "gettext_noop": None,
    "ngettext": (1, 2),
    "ngettext_lazy": (1, 2),
    "pgettext": ((1, "c"), 2),
    "pgettext_lazy": ((1, "c"), 2),
    "npgettext": ((1, "c"), 2, 3),
}
BLANK = re.compile(r"%\((\w+)\)s|\{(\w*)\}")


def translatable() -> Iterator[tuple[str, str | tuple[str, str]]]:
    """Each sentence that code or a page has translated, with where it stands; a plural as a pair."""
    sources = [(path, path.read_text()) for path in code()]
    pages = [
        path for path in files(".html", ".txt") if path.is_relative_to(ROOT) and "templates" in path.parts
    ]
    sources += [(path, re.sub(r"(?m)^[ \t]+", "", templatize(path.read_text()))) for path in pages]
    for path, text in sources:
        for line, function, sentence, _ in extract_python(BytesIO(text.encode()), KEYWORDS, [], {}):
            yield f"{name_of(path)}:{line}", without_context(function, sentence)


def without_context(function: str, sentence: str | tuple[str, ...]) -> str | tuple[str, str]:
    parts = (sentence,) if isinstance(sentence, str) else sentence
    parts = parts[1:] if function.startswith(("pgettext", "npgettext")) else parts
    return (parts[0], parts[1]) if function.startswith(("ngettext", "npgettext")) else parts[0]


def spanish() -> Catalog:
    path = ROOT / "project" / "locale" / "es" / "LC_MESSAGES" / "django.po"
    return read_po(StringIO(path.read_text(encoding="utf-8")), locale="es")


def is_said(message: Message | None) -> bool:
    if message is None or message.fuzzy:
        return False
    said = message.string
    return all(said) if isinstance(said, tuple) else bool(said)


def test_every_translatable_sentence_has_its_spanish():
    known = {message.id: message for message in spanish()}
    by_singular = {id_[0] if isinstance(id_, tuple) else id_: message for id_, message in known.items()}
    singular = ((place, said[0] if isinstance(said, tuple) else said) for place, said in translatable())
    missing = {f"{place}: {said}" for place, said in singular if not is_said(by_singular.get(said))}
    assert not missing, "\n".join(sorted(missing))


def test_no_spanish_is_left_of_what_nobody_says_any_more():
    """A sentence inside an f-string or under another name than those of `KEYWORDS` is not seen either."""
    said_now = {said[0] if isinstance(said, tuple) else said for _place, said in translatable()}
    ids = (message.id for message in spanish() if message.id)
    assert {id_[0] if isinstance(id_, tuple) else id_ for id_ in ids} <= said_now


def test_the_spanish_keeps_every_blank():
    def blanks(text: str) -> set[str]:
        return {one or other for one, other in BLANK.findall(text)}

    broken = []
    for message in spanish():
        if not message.id:
            continue
        ids = message.id if isinstance(message.id, tuple) else (message.id,)
        said = message.string if isinstance(message.string, tuple) else (message.string,)
        broken += [text for text in said if text and blanks(text) - blanks(ids[-1])]
    assert broken == []


def wordings() -> Iterator[tuple[str, Wording]]:
    """Every wording in a catalogue of any module, nested ones included."""
    for room in ROOMS:
        package = importlib.import_module(room)
        for module in pkgutil.walk_packages(package.__path__, f"{room}."):
            if ".management." in module.name or ".migrations." in module.name:
                continue
            for name, value in vars(importlib.import_module(module.name)).items():
                yield from inside(f"{module.name}.{name}", value)


def inside(where: str, value: object) -> Iterator[tuple[str, Wording]]:
    if isinstance(value, Wording):
        yield where, value
    elif isinstance(value, dict):
        for key, member in value.items():
            yield from inside(f"{where}[{key}]", member)


def test_every_wording_has_the_same_blanks_in_both_languages():
    def blanks(text: str) -> set[str]:
        return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}

    found = dict(wordings())
    assert len(found) > 100
    assert {where for where, wording in found.items() if bool(wording.en) != bool(wording.es)} == set()
    assert {where for where, wording in found.items() if blanks(wording.en) != blanks(wording.es)} == set()
