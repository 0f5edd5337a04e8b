"""YAML files to rule packs: the seam between files and the rulebook. Faults name file and line."""

from functools import cache
from pathlib import Path

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.errors import RuleError
from compliance.rulebook.pack import Pack, read_pack
from shared.strict_yaml import StrictYamlError, YamlList, YamlValue, check_keys, line_of, read

PACKS = Path(__file__).parent / "packs"


class PackError(ValueError):
    """A pack that cannot be used: file, line and what would be right."""

    def __init__(self, file: str, line: int, fault: RuleError) -> None:
        super().__init__(fault.wording_id)
        self.file = file
        self.line = line
        self.fault = fault

    def say(self, language: str) -> str:
        """The sentence for a person: `rules/wind.yaml:12: unknown key maximum; allowed are ...`."""
        return f"{self.file}:{self.line}: {self.fault.say(language)}"

    def __str__(self) -> str:
        return self.say("en")


@cache
def registered_packs() -> tuple[Pack, ...]:
    """The packs that the registry names, from wide to narrow. Raises PackError or StrictYamlError."""
    return tuple(read_folder(PACKS / folder, folder) for folder in registry(PACKS / "registry.yaml"))


def registry(file: Path) -> list[str]:
    """The folders of the packs in use. Raises StrictYamlError."""
    tree = check_keys(read_file(file, file.name), file.name, ["packs"])
    entries = tree["packs"] if isinstance(tree["packs"], YamlList) else YamlList()
    return [str(check_keys(entry, file.name, ["folder", "pack", "covers"])["folder"]) for entry in entries]


def read_folder(folder: Path, name: str, layer: str = "law") -> Pack:
    """The pack in a folder; `name` stands before the file in faults. Raises PackError or StrictYamlError."""
    files = {"pack.yaml": read_file(folder / "pack.yaml", f"{name}/pack.yaml")}
    topics = {}
    for path in sorted((folder / "rules").glob("*.yaml")):
        inside = f"rules/{path.name}"
        files[inside] = topics[path.stem] = read_file(path, f"{name}/{inside}")
    try:
        return read_pack(files["pack.yaml"], topics, VOCABULARY, layer)
    except RuleError as error:
        inside = str(error.place[0])
        raise PackError(f"{name}/{inside}", line_of(files[inside], error.place[1:]), error) from None


def read_file(path: Path, name: str) -> YamlValue:
    """The YAML value in a file, read strictly. Raises StrictYamlError, also for a file that is not there."""
    try:
        return read(path.read_text(encoding="utf-8"), name)
    except (OSError, UnicodeDecodeError):
        raise StrictYamlError(name, 1, "yaml/unreadable", {}) from None
