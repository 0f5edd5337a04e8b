"""Modules fit on a few screens and functions on one; what doesn't is listed, with its reason."""

import ast

from tests.health.committed import ROOT, code, name_of

MODULE_LINES, FUNCTION_LINES = 200, 30

WORDS = "words and their labels in two languages, one line each, no logic"
LONG_MODULES = {
    "compliance/papers/record_sheet/wording.py": WORDS,
    "compliance/rulebook/conditions.py": "the one closed form of conditions: its words and their meaning",
    "compliance/rulebook/reading.py": "the readers of parameters that all kinds share",
    "compliance/rulebook/rule.py": "a rule with everything that it may carry",
    "project/urls.py": "the whole map of addresses on one page, one line each",
    "records/bundle/verify_records.py": "one file in every bundle, read and run where nothing of ours is",
    "records/document/fault_wordings.py": WORDS,
    "records/document/member_labels.py": WORDS,
    "records/document/types.py": "the document's one definition, read from top to bottom",
    "records/document/words.py": WORDS,
    "records/forms/controls.py": "one class a control, all drawn alike",
    "shared/strict_yaml.py": "one strict reader with all that it refuses",
}
LONG_FUNCTIONS = {
    "compliance/check.py:check_document": "a list of the parts of a check",
    "records/document/edits.py:apply": "its docstring says how edits meet",
    "records/mixing/plan.py:plan_mix": "a list of the parts of a plan",
}


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
