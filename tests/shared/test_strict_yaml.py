"""YAML in which every scalar is text and nothing can be misread."""

import pytest

from shared.strict_yaml import (
    DEEPEST,
    LONGEST,
    MOST_VALUES,
    StrictYamlError,
    YamlList,
    YamlMap,
    check_keys,
    line_of,
    read,
)


def fault(text: str) -> StrictYamlError:
    with pytest.raises(StrictYamlError) as caught:
        read(text, "wind.yaml")
    return caught.value


@pytest.mark.parametrize("scalar", ["NO", "12:30", "1e3", "0777", "~", "true", "2024-07-01", "null"])
def test_every_scalar_stays_the_text_that_was_written(scalar: str) -> None:
    assert read(f"value: {scalar}", "wind.yaml") == {"value": scalar}


def test_lists_and_mappings_keep_their_order_and_lines() -> None:
    tree = read("b: 1\na:\n  - x\n  - {c: d}\n", "wind.yaml")
    assert isinstance(tree, YamlMap)
    assert list(tree) == ["b", "a"]
    assert tree.lines == {"b": 1, "a": 2}
    assert line_of(tree, ("a", 1, "c")) == 4
    assert line_of(tree, ("a", 7)) == 2
    assert line_of(tree, ("missing",)) == 1


@pytest.mark.parametrize(
    ("text", "wording", "line"),
    [
        ("max: 10\nmax: 12", "yaml/duplicate_key", 2),
        ("a: &x 1", "yaml/alias", 1),
        ("a: 1\nb: *x", "yaml/alias", 2),
        ("a: !!int 1", "yaml/tag", 1),
        ("a: !thing {b: c}", "yaml/tag", 1),
        ("a: 1\n---\nb: 2", "yaml/several", 2),
        ("? [a]\n: 1", "yaml/key_not_text", 1),
        ("a: [", "yaml/not_yaml", 2),
        ("\x00", "yaml/not_yaml", 1),
        ("", "yaml/empty", 1),
        ("# only a remark", "yaml/empty", 1),
        ("[" * (DEEPEST + 1), "yaml/too_deep", 1),
        ("a" * (LONGEST + 1), "yaml/too_long", 1),
    ],
)
def test_what_could_be_misread_is_refused_with_its_line(text: str, wording: str, line: int) -> None:
    found = fault(text)
    assert (found.wording_id, found.line) == (wording, line)


def test_a_bomb_of_aliases_is_refused_at_its_first_anchor() -> None:
    bomb = "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]"
    assert fault(bomb).wording_id == "yaml/alias"


def test_an_unknown_key_is_refused_with_the_allowed_ones() -> None:
    with pytest.raises(StrictYamlError) as caught:
        check_keys(read("max: 1\nmaximum: 2", "wind.yaml"), "wind.yaml", ["max"], ["min"])
    assert str(caught.value) == "wind.yaml:2: unknown key maximum; allowed are max, min"
    assert caught.value.say("es") == "wind.yaml:2: clave desconocida maximum; se permiten max, min"


def test_a_missing_key_is_refused() -> None:
    with pytest.raises(StrictYamlError, match="the key max is missing"):
        check_keys(read("min: 1", "wind.yaml"), "wind.yaml", ["max"], ["min"])


def test_a_list_is_not_taken_for_a_mapping() -> None:
    tree = read("- 1", "wind.yaml")
    assert isinstance(tree, YamlList)
    with pytest.raises(StrictYamlError, match="expected keys and values"):
        check_keys(tree, "wind.yaml", ["max"])


def test_a_file_of_too_many_values_is_refused():
    with pytest.raises(StrictYamlError) as caught:
        read("[" + "a," * MOST_VALUES + "]", "list.yaml")
    assert caught.value.say("en") == "list.yaml:1: more than 50000 values"
