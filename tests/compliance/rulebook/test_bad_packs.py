"""One broken pack for each thing that can be wrong: the message names file, line and what would be right."""

from pathlib import Path

import pytest

from compliance.pack_reader import PACKS, PackError, read_folder, registered_packs, registry
from compliance.rulebook.kinds import KINDS
from shared.strict_yaml import StrictYamlError

BAD_PACKS = sorted((Path(__file__).parents[3] / "fixtures" / "bad_packs").iterdir())


@pytest.mark.parametrize("folder", BAD_PACKS, ids=lambda folder: folder.name)
def test_a_broken_pack_is_refused_with_file_line_and_reason(folder: Path) -> None:
    with pytest.raises((PackError, StrictYamlError)) as caught:
        read_folder(folder, folder.name)
    assert str(caught.value) == f"{folder.name}/{(folder / 'says.txt').read_text().strip()}"


@pytest.mark.parametrize("folder", BAD_PACKS, ids=lambda folder: folder.name)
def test_a_broken_pack_is_refused_in_spanish_too(folder: Path) -> None:
    with pytest.raises((PackError, StrictYamlError)) as caught:
        read_folder(folder, folder.name)
    assert caught.value.say("es").startswith(f"{folder.name}/")
    assert caught.value.say("es") != caught.value.say("en")


def test_a_retired_kind_is_refused_in_a_new_pack(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(KINDS["record"], "retired", True)
    with pytest.raises(PackError, match="the kind record is retired"):
        read_folder(PACKS / "us-wa", "us-wa")


def test_the_registry_names_each_folder_of_packs() -> None:
    folders = {path.name for path in PACKS.iterdir() if path.is_dir()}
    assert set(registry(PACKS / "registry.yaml")) == folders
    assert [pack.id for pack in registered_packs()] == registry(PACKS / "registry.yaml")


def test_a_registry_without_a_list_of_packs_names_none(tmp_path: Path) -> None:
    file = tmp_path / "registry.yaml"
    file.write_text("packs: none\n")
    assert registry(file) == []
