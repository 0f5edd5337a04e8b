"""YAML read strictly: every scalar is text, and what could be misread is refused with file and line.

No `NO` as false, no `12:30` as 750: the type of a scalar is for its reader to say. Duplicate keys, anchors,
aliases, tags, several documents, a file that is too long, too deep or too full are faults.
"""

from collections.abc import Iterable, Iterator
from typing import Any

import yaml

from shared.wording import Blanks, Catalogue, Wording, say, shortened

LONGEST = 1_000_000
DEEPEST = 20
MOST_VALUES = 50_000

WORDINGS: Catalogue = {
    "yaml/not_yaml": Wording("this is not YAML: {problem}", "esto no es YAML: {problem}"),
    "yaml/too_long": Wording(
        "the file is longer than {most} characters", "el archivo pasa de {most} caracteres"
    ),
    "yaml/too_deep": Wording("nested deeper than {most} levels", "anidado en más de {most} niveles"),
    "yaml/too_many": Wording("more than {most} values", "más de {most} valores"),
    "yaml/empty": Wording("the file is empty", "el archivo está vacío"),
    "yaml/unreadable": Wording("there is no such file of text", "no existe tal archivo de texto"),
    "yaml/several": Wording(
        "a file holds one YAML document only", "un archivo contiene un solo documento YAML"
    ),
    "yaml/alias": Wording(
        "anchors and aliases (& and *) are not allowed: write the value out",
        "no se permiten anclas ni alias (& y *): escriba el valor completo",
    ),
    "yaml/tag": Wording(
        "tags (!) are not allowed: every value is text", "no se permiten etiquetas (!): todo valor es texto"
    ),
    "yaml/key_not_text": Wording("a key must be text", "una clave debe ser texto"),
    "yaml/duplicate_key": Wording(
        "the key {key} stands twice, first in line {first}",
        "la clave {key} está dos veces, primero en la línea {first}",
    ),
    "yaml/unknown_key": Wording(
        "unknown key {key}; allowed are {allowed}", "clave desconocida {key}; se permiten {allowed}"
    ),
    "yaml/missing_key": Wording("the key {key} is missing", "falta la clave {key}"),
    "yaml/not_a_mapping": Wording("expected keys and values", "se esperaban claves y valores"),
}


class StrictYamlError(ValueError):
    """What is wrong with a YAML file, and in which line (counted from 1)."""

    def __init__(self, file: str, line: int, wording_id: str, blanks: Blanks) -> None:
        super().__init__(wording_id)
        self.file = file
        self.line = line
        self.wording_id = wording_id
        self.blanks = dict(blanks)

    def say(self, language: str) -> str:
        """The sentence for a person, e.g. `rules/wind.yaml:12: unknown key maximum; allowed are max, min`."""
        return f"{self.file}:{self.line}: {say(WORDINGS, self.wording_id, self.blanks, language)}"

    def __str__(self) -> str:
        return self.say("en")


class YamlText(str):
    """A scalar and the line that it stands in."""

    line: int


class YamlList(list[Any]):
    """A list and the line that it begins in."""

    line: int


class YamlMap(dict[str, Any]):
    """Keys and values, the line that it begins in and the line of each key."""

    line: int
    lines: dict[str, int]


YamlValue = YamlText | YamlList | YamlMap


def read(text: str, file: str) -> YamlValue:
    """The one value in a YAML text; `file` is the name given in faults. Raises StrictYamlError."""
    if len(text) > LONGEST:
        raise StrictYamlError(file, 1, "yaml/too_long", {"most": str(LONGEST)})
    try:
        value = _Builder(file).build(_events(text))
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise StrictYamlError(file, line, "yaml/not_yaml", {"problem": error.problem or ""}) from None
    except yaml.YAMLError as error:
        raise StrictYamlError(file, 1, "yaml/not_yaml", {"problem": str(error).splitlines()[0]}) from None
    if value is None:
        raise StrictYamlError(file, 1, "yaml/empty", {})
    return value


def check_keys(value: YamlValue, file: str, required: Iterable[str], optional: Iterable[str] = ()) -> YamlMap:
    """The value itself, if it is a mapping with all required keys and no other than these.

    Raises StrictYamlError.
    """
    if not isinstance(value, YamlMap):
        raise StrictYamlError(file, value.line, "yaml/not_a_mapping", {})
    required = tuple(required)
    allowed = required + tuple(optional)
    for key in value:
        if key not in allowed:
            blanks = {"key": shortened(key), "allowed": ", ".join(sorted(allowed))}
            raise StrictYamlError(file, value.lines[key], "yaml/unknown_key", blanks)
    for key in required:
        if key not in value:
            raise StrictYamlError(file, value.line, "yaml/missing_key", {"key": key})
    return value


def line_of(value: YamlValue, where: Iterable[str | int]) -> int:
    """The line of the value at a place in the tree, or of the deepest part of the place that is there."""
    line = value.line
    for step in where:
        if isinstance(value, YamlMap) and step in value:
            line, value = value.lines[str(step)], value[str(step)]
        elif isinstance(value, YamlList) and isinstance(step, int) and step < len(value):
            value = value[step]
            line = value.line
        else:
            break
    return line


def _events(text: str) -> Iterator[yaml.Event]:
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    events: Iterator[yaml.Event] = yaml.parse(text, Loader=loader)
    return events


def _line(event: yaml.Event) -> int:
    return event.start_mark.line + 1 if event.start_mark else 1


class _Builder:
    """Builds the tree from the parser's events without recursion, so that depth is bounded by us alone."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.root: YamlValue | None = None
        self.stack: list[YamlList | YamlMap] = []
        self.keys: list[YamlText | None] = []
        self.values = 0

    def build(self, events: Iterator[yaml.Event]) -> YamlValue | None:
        documents = 0
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    raise self.fault(event, "yaml/several")
            elif isinstance(event, yaml.CollectionEndEvent):
                self.stack.pop()
                self.keys.pop()
            elif isinstance(event, yaml.NodeEvent):
                self.node(event)
        return self.root

    def node(self, event: yaml.NodeEvent) -> None:
        self.refuse_tricks(event)
        self.values += 1
        if self.values > MOST_VALUES:
            raise self.fault(event, "yaml/too_many", most=str(MOST_VALUES))
        value: YamlValue
        if isinstance(event, yaml.ScalarEvent):
            value = YamlText(event.value)
        elif isinstance(event, yaml.SequenceStartEvent):
            value = YamlList()
        else:
            value = YamlMap()
            value.lines = {}
        value.line = _line(event)
        self.place(event, value)
        if not isinstance(value, YamlText):
            self.stack.append(value)
            self.keys.append(None)
            if len(self.stack) > DEEPEST:
                raise self.fault(event, "yaml/too_deep", most=str(DEEPEST))

    def place(self, event: yaml.NodeEvent, value: YamlValue) -> None:
        if not self.stack:
            if value != "":
                self.root = value
        elif isinstance(parent := self.stack[-1], YamlList):
            parent.append(value)
        elif (key := self.keys[-1]) is None:
            self.keys[-1] = self.new_key(event, parent, value)
        else:
            parent[key] = value
            self.keys[-1] = None

    def new_key(self, event: yaml.NodeEvent, parent: YamlMap, key: YamlValue) -> YamlText:
        if not isinstance(key, YamlText):
            raise self.fault(event, "yaml/key_not_text")
        if key in parent.lines:
            raise self.fault(event, "yaml/duplicate_key", key=shortened(key), first=str(parent.lines[key]))
        parent.lines[str(key)] = key.line
        return key

    def refuse_tricks(self, event: yaml.NodeEvent) -> None:
        if isinstance(event, yaml.AliasEvent) or event.anchor:
            raise self.fault(event, "yaml/alias")
        if getattr(event, "tag", None):
            raise self.fault(event, "yaml/tag")

    def fault(self, event: yaml.Event, wording_id: str, **blanks: str) -> StrictYamlError:
        return StrictYamlError(self.file, _line(event), wording_id, blanks)
