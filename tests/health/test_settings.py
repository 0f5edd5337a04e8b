import ast
import re

from tests.health.committed import ROOT


def settings_read() -> set[str]:
    """Names that settings.py reads from the environment: the first argument of each `env.<kind>(…)`."""
    tree = ast.parse((ROOT / "project" / "settings.py").read_text())
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    read = [call for call in calls if ast.unparse(call.func).startswith("env.")]
    return {call.args[0].value for call in read if isinstance(call.args[0], ast.Constant)}


def test_settings_are_read_at_all():
    assert {"SECRET_KEY", "DATABASE_URL", "ALLOWED_HOSTS"} <= settings_read()


def test_every_setting_stands_in_the_readme():
    readme = (ROOT / "README.md").read_text()
    missing = {name for name in settings_read() if not re.search(rf"`{name}`", readme)}
    assert not missing
