"""Rule packs made to hang, crash or fill the machine; and real ones with bytes or values changed."""

import json
import random
import tempfile
from collections.abc import Callable, Iterator
from functools import cache, partial
from pathlib import Path
from typing import Any

from compliance.facts_reader import VOCABULARY, read_facts
from compliance.pack_reader import PACKS, PackError, read_folder
from compliance.rulebook.evaluate import judge
from compliance.rulebook.facts import Facts
from compliance.rulebook.layers import unlawful
from compliance.rulebook.limits import limits_in_force, strictest_of
from compliance.rulebook.pack import Pack
from records.document.context import read_context
from records.document.reader import read as read_document
from shared.strict_yaml import StrictYamlError, read
from tests.compliance.patched import load
from tests.compliance.rulebook.builders import HEAD, rule
from tests.compliance.rulebook.situations import places_of, replaced

OWN_ERRORS = (PackError, StrictYamlError)
Files = dict[str, bytes]
Hostile = tuple[str, Callable[[], Any]]

WIND = rule(id="xx/wind", kind="limit", quantity="wind_speed", max="10 mph")
CALM = {"fact": "item.calm", "is": "yes"}
ALIENS: tuple[Any, ...] = (
    [],
    {},
    [[]],
    {"": ""},
    "",
    "no",
    "1e999999999",
    "9" * 400,
    ["x"] * 300,
    "\u202e\u0000",
)
SIZE = 900_000


def written(head: Any = HEAD, rules: Any = None) -> Files:
    """A pack of plain data as files; JSON is YAML."""
    topic = {"rules": [WIND]} if rules is None else rules
    return {"pack.yaml": json.dumps(head).encode(), "rules/wind.yaml": json.dumps(topic).encode()}


def with_when(condition: str) -> Files:
    """A pack whose rule has this condition, as YAML text."""
    rules = json.dumps({"rules": [{**WIND, "when": 0, "otherwise": {"en": "No.", "es": "No."}}]})
    return {**written(), "rules/wind.yaml": rules.replace('"when": 0', f'"when": {condition}').encode()}


def nested(depth: int, before: str, inside: str, after: str) -> str:
    return before * depth + inside + after * depth


def texts() -> Iterator[tuple[str, bytes]]:
    """Files that are no pack at all."""
    pairs = zip("abcdefgh", "bcdefghi", strict=True)
    laughs = "a: &a [x, x]\n" + "".join(f"{b}: &{b} [*{a}, *{a}]\n" for a, b in pairs)
    yield "billion laughs", laughs.encode()
    yield "an anchor in itself", b"&a [*a]"
    yield "a merge of itself", b"&a\n<<: *a\n"
    yield "a million brackets", b"[" * 1_000_000
    yield "brackets within bounds", b"[" * SIZE
    yield "braces within bounds", b"{a: " * (SIZE // 4)
    yield "deep by indentation", "".join(" " * depth + "- \n" for depth in range(1200)).encode()
    yield "a list of a million", b"[" + b"a," * 1_000_000 + b"]"
    yield "a list within bounds", b"[" + b"a," * (SIZE // 2) + b"]"
    yield "keys within bounds", "".join(f"k{number}: v\n" for number in range(SIZE // 11)).encode()
    yield "one key again and again", b"k: v\n" * (SIZE // 5)
    yield "a key of great length", b"? " + b"k" * SIZE + b"\n: v\n"
    yield "text of great length", b"pack: " + b"x" * SIZE
    yield "a thousand documents", b"--- a\n" * 1000
    yield "a tag that calls", b"!!python/object/apply:os.system ['true']"
    yield "a binary tag", b"pack: !!binary aGk="
    yield "a version that is not", b"%YAML 9.9\n---\npack: xx\n"
    yield "a list as a key", b"? [a, b]\n: c\n"
    yield "nothing", b""
    yield "remarks only", b"# nothing\n"
    yield "tabs", b"pack:\n\t- x\n"
    yield "a zero byte", b"pack: x\x00x\n"
    yield "not UTF-8", b"pack: \xff\xfe\xc3\n"
    yield "UTF-16", "pack: xx\n".encode("utf-16")
    yield "a byte order mark", b"\xef\xbb\xbfpack: xx\n"
    yield "half a character", b'pack: "\\uD800"\n'
    yield "an escaped zero", b'pack: "\\0"\n'
    yield "an open quote", b'pack: "' + b"x\n" * 10_000
    yield "folded text without end", b"pack: >\n" + b" x\n" * (SIZE // 3)
    yield "colons", b": " * (SIZE // 2)
    yield "dashes", b"- " * (SIZE // 2)
    yield "question marks", b"? " * (SIZE // 2)


def whole() -> Iterator[tuple[str, Files]]:
    """Whole packs with one thing amiss."""
    for name, data in texts():
        yield f"pack.yaml: {name}", {**written(), "pack.yaml": data}
        yield f"rules: {name}", {**written(), "rules/wind.yaml": data}
    for depth in (100, 10_000, 100_000):
        yield f"not, {depth} deep", with_when(nested(depth, '{"not": ', json.dumps(CALM), "}"))
        yield f"all, {depth} deep", with_when(nested(depth, '{"all": [', json.dumps(CALM), "]}"))
    yield "nine deep", with_when(nested(9, '{"not": ', json.dumps(CALM), "}"))
    yield "many parts", with_when('{"any": [' + ", ".join([json.dumps(CALM)] * 20_000) + "]}")
    yield "many words", with_when('{"fact": "site.use", "is one of": [' + ", ".join(["x"] * 100_000) + "]}")
    for number in ("1e999999999", "9" * SIZE, "0." + "9" * SIZE, "-1", "1/3", "nan", "inf", "0x10", "1_000"):
        yield f"{number[:12]} mph", written(rules={"rules": [{**WIND, "max": f"{number} mph"}]})
    for day in ("0000-00-00", "9999-12-31", "99999-01-01", "2026-02-30", "1" * SIZE):
        yield f"from {day[:12]}", written(rules={"rules": [{**WIND, "from": day}]})
        yield f"value of {day[:12]}", written(rules={"rules": [{**WIND, "values": {day: {}}}]})
    for path in ("a." * SIZE, ".", "weather.readings." * 20_000, "__class__.__init__", "item", "x" * SIZE):
        yield f"path {path[:12]}", with_when(json.dumps({"fact": path[:SIZE], "is": "x"}))
    yield "an id of great length", written(rules={"rules": [{**WIND, "id": "xx/" + "a" * SIZE + "!"}]})
    yield "an id of many parts", written(rules={"rules": [{**WIND, "id": "xx" + "/a" * (SIZE // 2) + "!"}]})
    yield "many rules of one id", written(rules={"rules": [WIND] * 1000})
    yield "a title of great length", written(rules={"rules": [{**WIND, "kind": "x" * SIZE}]})


def aliens() -> Iterator[tuple[str, Files]]:
    """Every value of a pack in turn replaced by one of another type."""
    for file, value in (("pack.yaml", HEAD), ("rules/wind.yaml", {"rules": [WIND]})):
        for steps, _ in [((), None), *places_of(value)]:
            for alien in ALIENS:
                name = f"{file}, {'.'.join(map(str, steps))}: {str(alien)[:12]}"
                yield name, {**written(), file: json.dumps(replaced(value, steps, alien)).encode()}


def small() -> Iterator[Hostile]:
    for name, files in (*whole(), *aliens()):
        yield name, partial(read_files, files)


def mutated(seed: int, count: int) -> Iterator[Hostile]:
    """Real packs with bytes changed, cut, doubled, or values of the YAML exchanged."""
    chance = random.Random(seed)
    folders = sorted(path.parent for path in PACKS.glob("*/pack.yaml"))
    for number in range(count):
        folder = chance.choice(folders)
        paths = [folder / "pack.yaml", *sorted((folder / "rules").glob("*.yaml"))]
        files = {str(path.relative_to(folder)): path.read_bytes() for path in paths}
        struck = chance.choice(sorted(files))
        change = chance.choice([change_bytes, change_values])
        files[struck] = change(files[struck], chance)
        yield f"{seed}/{number}: {folder.name}/{struck}", partial(read_files, files)


def change_bytes(data: bytes, chance: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(chance.choice([1, 2, 10, 100])):
        at, until = sorted(chance.choices(range(len(changed) + 1), k=2))
        match chance.randrange(4):
            case 0:
                changed[at : at + 1] = bytes([chance.choice(b"\x00\xff{}[]&*!|>'\"%@:,-?# \n\t0aZ")])
            case 1:
                del changed[at : min(until, at + 40)]
            case 2:
                changed[at:at] = changed[at : min(until, at + 400)]
            case 3:
                changed[at:at] = bytes(chance.randbytes(chance.randrange(1, 5)))
    return bytes(changed)


def change_values(data: bytes, chance: random.Random) -> bytes:
    value: Any = read(data.decode(), "pack")
    for _ in range(chance.choice([1, 2, 5])):
        places = [((), value), *places_of(value)]
        steps, _ = chance.choice(places)
        value = replaced(value, steps, chance.choice([*ALIENS, chance.choice(places)[1]]))
    return json.dumps(value).encode()


def read_files(files: Files) -> object:
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        (folder / "rules").mkdir()
        for name, data in files.items():
            (folder / name).write_bytes(data)
        return judged(read_folder(folder, "hostile"))


@cache
def facts() -> Facts:
    example, context = (load(f"documents/{name}.json") for name in ("example", "example-context"))
    return read_facts(read_document(example), read_context(context))


def judged(pack: Pack) -> object:
    """All that a pack which was read says of a treatment."""
    found = judge([pack], facts(), VOCABULARY)
    bounds = strictest_of(found)
    return [one.stored() for one in found.findings], limits_in_force(bounds), unlawful(bounds, VOCABULARY)


def warm_up() -> None:
    """Whatever is made once only is made before memory is bound."""
    read_files(written())
