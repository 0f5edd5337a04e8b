"""Modules fit on a few screens and functions on one; what doesn't is listed, with its reason."""

import ast

from tests.health.committed import ROOT, code, name_of

MODULE_LINES, FUNCTION_LINES = 200, 30

LONG_MODULES: dict[str, str] = {
    "records/document/types.py": "the document's one definition, read from top to bottom",
    "records/document/words.py": "lists of words with their labels, no logic",
    "records/document/member_labels.py": "the name of each member in two languages, no logic",
}
LONG_FUNCTIONS: dict[str, str] = {}


def long_modules() -> dict[str, int]:
    lines = {name_of(path): len(path.read_text().splitlines()) for path in code()}
    return {name: count for name, count in lines.items() if count > MODULE_LINES}


def long_functions() -> dict[str, int]:
    found = {}
    for path in code():
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                lines = (node.end_lineno or node.lineno) - node.lineno + 1
                if lines > FUNCTION_LINES:
                    found[f"{name_of(path)}:{node.name}"] = lines
    return found


def test_every_module_over_the_measure_is_listed_with_its_reason():
    assert long_modules().keys() == LONG_MODULES.keys(), long_modules()


def test_every_function_over_the_measure_is_listed_with_its_reason():
    assert long_functions().keys() == LONG_FUNCTIONS.keys(), long_functions()


def test_the_house_is_where_the_guide_says():
    guide = (ROOT / "DEVELOPERS.md").read_text()
    assert all(f"`{room}/`" in guide for room in ("shared", "records", "compliance", "project", "tests"))
